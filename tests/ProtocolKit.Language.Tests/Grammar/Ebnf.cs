using System.Text.RegularExpressions;

namespace ProtocolKit.Language.Tests.Grammar;

/// <summary>A rule's right side: ISO/IEC 14977 without exceptions but <c>{ … }-</c>, one or more.</summary>
internal abstract record Part;

internal sealed record Terminal(string Text) : Part;

internal sealed record Rule(string Name) : Part;

internal sealed record Special(string Words) : Part;

internal sealed record Sequence(IReadOnlyList<Part> Parts) : Part;

internal sealed record Choice(IReadOnlyList<Part> Parts) : Part;

/// <param name="Least">0 or 1.</param>
/// <param name="Most">1, or more than can be written.</param>
internal sealed record Repeated(Part Inner, int Least, int Most) : Part;

/// <summary>Reads a grammar in the notation of ISO/IEC 14977.</summary>
internal sealed partial class Ebnf
{
    private readonly List<string> _pieces;
    private int _at;

    private Ebnf(string text) =>
        _pieces = [.. Piece().Matches(Comment().Replace(text, " ")).Select(m => m.Value.Trim())];

    public static IReadOnlyDictionary<string, Part> Read(string text)
    {
        var reader = new Ebnf(text);
        var rules = new Dictionary<string, Part>(StringComparer.Ordinal);
        while (reader._at < reader._pieces.Count)
        {
            var name = reader.Next();
            reader.Expect("=");
            rules.Add(name, reader.Alternatives());
            reader.Expect(";");
        }

        return rules;
    }

    /// <summary>All parts of a rule, itself first.</summary>
    public static IEnumerable<Part> Within(Part part) =>
        part switch
        {
            Sequence s => s.Parts.SelectMany(Within).Prepend(part),
            Choice c => c.Parts.SelectMany(Within).Prepend(part),
            Repeated r => Within(r.Inner).Prepend(part),
            _ => [part],
        };

    private Part Alternatives()
    {
        var parts = new List<Part> { Row() };
        while (Is("|"))
        {
            _at++;
            parts.Add(Row());
        }

        return parts.Count == 1 ? parts[0] : new Choice(parts);
    }

    private Part Row()
    {
        var parts = new List<Part> { One() };
        while (Is(","))
        {
            _at++;
            parts.Add(One());
        }

        return parts.Count == 1 ? parts[0] : new Sequence(parts);
    }

    private Part One()
    {
        var piece = Next();
        switch (piece)
        {
            case "(":
                return Closed(")");
            case "[":
                return new Repeated(Closed("]"), 0, 1);
            case "{":
                var inner = Closed("}");
                var isSome = Is("-");
                _at += isSome ? 1 : 0;
                return new Repeated(inner, isSome ? 1 : 0, int.MaxValue);
            default:
                return piece[0] switch
                {
                    '"' => new Terminal(piece[1..^1]),
                    '?' => new Special(piece.Trim('?', ' ')),
                    _ => new Rule(piece),
                };
        }
    }

    private Part Closed(string end)
    {
        var inner = Alternatives();
        Expect(end);
        return inner;
    }

    private bool Is(string piece) => _at < _pieces.Count && _pieces[_at] == piece;

    private string Next() => _pieces[_at++];

    private void Expect(string piece) => Assert.Equal(piece, Next());

    [GeneratedRegex("""\(\*.*?\*\)""", RegexOptions.Singleline)]
    private static partial Regex Comment();

    [GeneratedRegex(
        """ "[^"]*" | \?[^?]*\? | [A-Za-z][A-Za-z\ -]*[A-Za-z] | [=;,|()\[\]{}-] """,
        RegexOptions.IgnorePatternWhitespace
    )]
    private static partial Regex Piece();
}
