using System.Globalization;
using System.Text;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Listing;

/// <summary>
/// The core program as plain text, a line an assignment, each with the limits proved for it: what every target computes,
/// in one notation that depends on none.
/// </summary>
public sealed class ProgramListing : IOutput
{
    public string Kind => "scoring-rules";

    public string Purpose => "the scoring line by line, with the limits proved for each";

    public IReadOnlyList<Artefact> Render(Protocol protocol, OutputOptions options, TemplateSource templates)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return [new Artefact("scoring-rules.txt", Write(protocol))];
    }

    private static string Write(Protocol protocol)
    {
        var program = protocol.Program;
        var text = new StringBuilder();
        text.Append(
            CultureInfo.InvariantCulture,
            $"{OneLine(protocol.Title)}, edition {OneLine(protocol.Edition)}\n"
        );
        text.Append(
            CultureInfo.InvariantCulture,
            $"interpretation {protocol.Fingerprints.Interpretation}\n\n"
        );
        text.Append("A screen makes no diagnosis. Local rules and licensed practice come first.\n\n");
        text.Append(
            "Whole numbers only. Behind each line stand the limits proved for it from the bounds of the answers;\n"
        );
        text.Append(
            CultureInfo.InvariantCulture,
            $"no value on the way may pass {ScoringProgram.Limit}.\n\nFields of the record\n"
        );
        foreach (var field in program.Fields)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"  {field.Name} : {field.Low}..{field.High}  # {OneLine(field.Note)}\n"
            );
        }

        text.Append("\nLines\n");
        var writer = new ListingWriter(program);
        foreach (var line in program.Lines)
        {
            var value = line.Value is { } number ? writer.Value(number) : writer.Condition(line.Condition!);
            text.Append(
                CultureInfo.InvariantCulture,
                $"  {line.Name} := {value}  # {line.Low}..{line.High} {OneLine(line.Note)}\n"
            );
        }

        return text.ToString();
    }

    private static string OneLine(string text) =>
        string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c));
}
