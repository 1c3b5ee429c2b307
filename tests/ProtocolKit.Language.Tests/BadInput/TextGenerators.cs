using FsCheck;
using FsCheck.Fluent;
using ProtocolKit.Language.Tests.Support;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Language.Tests.BadInput;

/// <summary>A text nobody wrote: characters at random, pieces of the language at random, or a real file cut about.</summary>
public sealed record RandomText(string Text);

/// <summary>
/// The example protocol, or a sample of the reference, with some lines or pieces deleted, doubled, swapped or replaced.
/// </summary>
public sealed record MutatedExample(string Text);

/// <summary>How FsCheck makes them.</summary>
public static class TextGenerators
{
    private static readonly string Example = Repository
        .Read("library", "quillmere", "quillmere-screen.protocol")
        .ReplaceLineEndings("\n");

    /// <summary>Words and signs of the language, met in the reference.</summary>
    private static readonly string[] Pieces =
    [
        .. ReferencePage
            .All.SelectMany(p => p.Text.Split([' ', '\n', '|', '`'], StringSplitOptions.RemoveEmptyEntries))
            .Where(p => p.Length < 20)
            .Distinct(StringComparer.Ordinal),
    ];

    public static Arbitrary<RandomText> RandomTexts() =>
        Gen.OneOf(Characters(), PiecesOfLanguage()).Select(t => new RandomText(t)).ToArbitrary();

    public static Arbitrary<MutatedExample> MutatedExamples()
    {
        var gen =
            from text in Gen.Elements([Example, .. ReferencePage.Samples.Values.Select(t => Tiny.Whole(t))])
            from count in Gen.Choose(1, 4)
            from edits in Edit().ListOf(count)
            select new MutatedExample(edits.Aggregate(text, (t, edit) => edit(t)));
        return gen.ToArbitrary();
    }

    private static Gen<string> Characters()
    {
        var signs = Gen.Elements(
            "()\"\\ \t\n\r.,;:-+*/<>=#{}[]%_'“”–0123456789abcxyzäß\0\ud83d\u202e".ToCharArray()
        );
        return signs.ArrayOf().Select(c => new string(c));
    }

    private static Gen<string> PiecesOfLanguage() =>
        from lines in Line().ArrayOf()
        from header in Gen.Elements("", Tiny.Header(), Tiny.Header() + FragmentPrelude.Vocabulary)
        select header + string.Join("\n", lines);

    private static Gen<string> Line() =>
        from indent in Gen.Elements("", "  ", "    ", " ", "\t")
        from words in Gen.Elements(Pieces).ArrayOf(6)
        from gap in Gen.Elements(" ", "  ", "")
        select indent + string.Join(gap, words);

    private static Gen<Func<string, string>> Edit() =>
        from kind in Gen.Choose(0, 6)
        from at in Gen.Choose(0, 1_000_000)
        from other in Gen.Choose(0, 1_000_000)
        from length in Gen.Choose(1, 30)
        from piece in Gen.Elements(Pieces)
        select (Func<string, string>)(text => Apply(kind, text, at, other, length, piece));

    private static string Apply(int kind, string text, int at, int other, int length, string piece)
    {
        var lines = text.Split('\n');
        var (i, j) = (at % lines.Length, other % lines.Length);
        var start = at % text.Length;
        var size = Math.Min(length, text.Length - start);
        switch (kind)
        {
            case 0:
                return string.Join('\n', lines.Where((_, k) => k != i));
            case 1:
                return string.Join('\n', [.. lines[..i], lines[i], .. lines[i..]]);
            case 2:
                (lines[i], lines[j]) = (lines[j], lines[i]);
                return string.Join('\n', lines);
            case 3:
                return text.Remove(start, size);
            case 4:
                return text.Insert(other % text.Length, text.Substring(start, size));
            case 5:
                return text.Remove(start, size).Insert(start, piece);
            default:
                lines[i] = Swapped(lines[i], other);
                return string.Join('\n', lines);
        }
    }

    /// <summary>A line with two of its words in each other's place.</summary>
    private static string Swapped(string line, int at)
    {
        var words = line.Split(' ');
        var (a, b) = (at % words.Length, at / 7 % words.Length);
        (words[a], words[b]) = (words[b], words[a]);
        return string.Join(' ', words);
    }
}
