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
        var variants = new List<Variant>(members.Count);
        foreach (var member in members)
        {
            var name = member.Name.Text;
            if (variants.Count > 0 && IsTwice(block, member, variants))
            {
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

            var spoken = body.Texts(TextLineKind.Say, of, words);
            CheckSpoken(block, body, spoken);
            variants.Add(new Variant(name, text, spoken, body.Texts(TextLineKind.Show, of, words)));
        }

        return variants.Count > 0 ? variants : [new Variant("", "", [], [])];
    }

    private bool IsTwice(TaskBlock block, EachMember member, List<Variant> variants)
    {
        var name = member.Name.Text;
        if (!variants.Exists(v => v.Name == name))
        {
            return false;
        }

        diagnostics.Clash(
            (block.Source, member.Name.Place),
            (block.Source, block.Each!.Members.First(m => m.Name.Text == name).Name.Place),
            NameMessages.Twice(block.Each.Kind.Text, name)
        );
        return true;
    }

    /// <summary>Told at the line, or, where a family's line is filled in, at the task that fills it.</summary>
    /// <param name="spoken">The texts of its lines that are said, in their order.</param>
    private void CheckSpoken(TaskBlock block, TaskBody body, IReadOnlyList<string> spoken)
    {
        var next = 0;
        foreach (var (statement, own) in body.Lines)
        {
            if (statement is not TextLine { Kind: TextLineKind.Say } line)
            {
                continue;
            }

            var count = WordsIn(spoken[next++]);
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
