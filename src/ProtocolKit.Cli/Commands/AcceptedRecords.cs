using System.CommandLine;
using ProtocolKit.Scoring;

namespace ProtocolKit.Cli.Commands;

/// <summary>The options by which records of another form, administration or edition are taken: each by its name, never all.</summary>
internal sealed class AcceptedRecords
{
    private readonly Option<string[]> _form = Accept(
        "form",
        "Take records of the form with this fingerprint too, and say so."
    );

    private readonly Option<string[]> _administration = Accept(
        "administration",
        "Take records given in the way of this fingerprint too, and say so."
    );

    private readonly Option<string[]> _edition = Accept(
        "edition",
        "Take records of this edition too where no fingerprints show that the form is the same."
    );

    public void AddTo(Command command)
    {
        command.Add(_form);
        command.Add(_administration);
        command.Add(_edition);
    }

    public RecordOptions Of(ParseResult parsed) =>
        new()
        {
            AcceptForms = parsed.GetValue(_form) ?? [],
            AcceptAdministrations = parsed.GetValue(_administration) ?? [],
            AcceptEditions = parsed.GetValue(_edition) ?? [],
        };

    private static Option<string[]> Accept(string what, string description) =>
        new($"--accept-{what}") { Description = description, Arity = ArgumentArity.OneOrMore };
}
