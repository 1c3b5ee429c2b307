using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>The sides, places, sounds or words a task is given for, each with its spoken and shown lines.</summary>
internal sealed class VariantBinder(DiagnosticBag diagnostics)
{
    private const int LongestSpoken = 12;
    private static readonly Dictionary<string, string> NoWords = [];

    public List<Variant> Bind(TaskBlock block, VariantKind kind, TaskBody body, Func<bool, Environment> of)
    {
        var members = block.Each?.Members ?? [new EachMember(new Word("", block.Name.Place), null)];
        var variants = new List<Variant>();
        foreach (var member in members)
        {
            var name = member.Name.Text;
            if (variants.Exists(v => v.Name == name))
            {
                diagnostics.Clash(
                    (block.Source, member.Name.Place),
                    (block.Source, members.First(m => m.Name.Text == name).Name.Place),
                    NameMessages.Twice(block.Each!.Kind.Text, name)
                );
                continue;
            }

            if (kind != VariantKind.None)
            {
                NameSpelling.Check(member.Name, block.Source, diagnostics);
            }

            if (kind == VariantKind.Side && name is not ("right" or "left"))
            {
                Report(block, member.Name.Place, NameMessages.UnknownOf("side", name, ["left", "right"]));
                continue;
            }

            var text = member.Text?.Text ?? Names.ToWords(name);
            var words = kind == VariantKind.None ? NoWords : new() { [TaskBinder.KeyOf(kind)] = text };

            CheckSpoken(block, body, of, words);
            variants.Add(
                new Variant(
                    name,
                    text,
                    body.Texts(TextLineKind.Say, of, words),
                    body.Texts(TextLineKind.Show, of, words)
                )
            );
        }

        return variants.Count > 0 ? variants : [new Variant("", "", [], [])];
    }

    /// <summary>Told at the line, or, where a family's line is filled in, at the task that fills it.</summary>
    private void CheckSpoken(
        TaskBlock block,
        TaskBody body,
        Func<bool, Environment> of,
        IReadOnlyDictionary<string, string> words
    )
    {
        foreach (var (statement, own) in body.Lines)
        {
            if (statement is not TextLine { Kind: TextLineKind.Say } line)
            {
                continue;
            }

            var count = WordsIn(of(own).Text(line.Text, line.Source, words));
            if (count > LongestSpoken)
            {
                Report(
                    own ? line : block,
                    own ? line.Text.Place : block.Name.Place,
                    CareMessages.LongSpoken(count)
                );
            }
        }
    }

    private static int WordsIn(string spoken)
    {
        var count = 0;
        for (var i = 0; i < spoken.Length; i++)
        {
            count += spoken[i] != ' ' && (i == 0 || spoken[i - 1] == ' ') ? 1 : 0;
        }

        return count;
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
