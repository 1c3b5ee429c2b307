using System.Globalization;
using System.Text;

namespace ProtocolKit.Language.Tests.Grammar;

/// <summary>Writes texts by the rules of a grammar, at random but for the last steps of a deep one, which end as soon as they can.</summary>
internal sealed class Sentences(IReadOnlyDictionary<string, Part> rules, int seed)
{
    private const int Deepest = 18;
    private const int Longest = 400;
    private static readonly string[] Names =
    [
        "kiss",
        "smile",
        "tip-nose",
        "kiss.rate",
        "hop.left",
        "total-2",
        "q",
    ];
    private static readonly string[] Units = ["s", "mm", "syllables/s", "kPa", "m.kg/s"];
    private readonly Random _random = new(seed);
    private readonly StringBuilder _text = new();
    private readonly Dictionary<string, int> _costs = [];
    private int _depth;
    private int _written;
    private int _cells;
    private bool _isLineStart = true;

    public string Write(string rule)
    {
        Write(rules[rule], 0);
        return _text.ToString();
    }

    private void Write(Part part, int depth)
    {
        switch (part)
        {
            case Terminal terminal:
                Put(terminal.Text);
                break;
            case Special:
                throw new InvalidOperationException("A special sequence is a rule of its own.");
            case Rule rule when rules[rule.Name] is Special:
                Put(Piece(rule.Name));
                break;
            case Rule rule:
                Write(rules[rule.Name], depth + 1);
                break;
            case Sequence sequence:
                foreach (var inner in sequence.Parts)
                {
                    Write(inner, depth + 1);
                }

                break;
            case Choice choice:
                Write(Pick(choice, depth), depth + 1);
                break;
            case Repeated repeated:
                Repeat(repeated, depth);
                break;
        }
    }

    private bool IsLate(int depth) => depth > Deepest || _written > Longest;

    private Part Pick(Choice choice, int depth) =>
        IsLate(depth)
            ? choice.Parts.MinBy(p => Cost(p, []))!
            : choice.Parts[_random.Next(choice.Parts.Count)];

    private void Repeat(Repeated repeated, int depth)
    {
        var isCell = Ebnf.Within(repeated.Inner).OfType<Rule>().Any(r => r.Name == "cell gap");
        var isHeading = isCell && !Ebnf.Within(repeated.Inner).OfType<Terminal>().Any();
        var times = IsLate(depth) ? repeated.Least : _random.Next(repeated.Least, repeated.Most == 1 ? 2 : 4);
        if (isCell)
        {
            // A row has as many cells as its heading has bands; no grammar without context can say that.
            _cells = isHeading ? Math.Max(1, times) : _cells;
            times = _cells;
        }

        for (var i = 0; i < times; i++)
        {
            Write(repeated.Inner, depth + 1);
        }
    }

    /// <summary>The fewest steps in which a part can be written.</summary>
    private int Cost(Part part, HashSet<string> open) =>
        part switch
        {
            Rule rule when rules[rule.Name] is Special => 1,
            Rule rule when _costs.TryGetValue(rule.Name, out var known) => known,
            Rule rule => CostOf(rule.Name, open),
            Sequence sequence => Math.Min(100_000, sequence.Parts.Sum(p => Cost(p, open))),
            Choice choice => choice.Parts.Min(p => Cost(p, open)),
            Repeated repeated => repeated.Least == 0 ? 0 : Cost(repeated.Inner, open),
            _ => 1,
        };

    private int CostOf(string name, HashSet<string> open)
    {
        if (!open.Add(name))
        {
            return 10_000;
        }

        var cost = 1 + Cost(rules[name], open);
        open.Remove(name);
        if (open.Count == 0)
        {
            _costs[name] = cost;
        }

        return cost;
    }

    private string? Piece(string rule)
    {
        switch (rule)
        {
            case "end":
                _text.Append('\n');
                _isLineStart = true;
                return null;
            case "deeper":
                _depth++;
                return null;
            case "back":
                _depth--;
                return null;
            case "cell gap":
                _text.Append(' ');
                return null;
            case "name":
                return Names[_random.Next(Names.Length)];
            case "text":
                return _random.Next(3) == 0 ? "\"Go, \\\"child\\\".\"" : "\"Say {part}.\"";
            case "number":
                return (_random.Next(5) == 0 ? "-" : "") + Digits();
            case "plain number":
                return Digits();
            case "age":
                return string.Create(
                    CultureInfo.InvariantCulture,
                    $"{_random.Next(2, 12)};{_random.Next(12)}"
                );
            case "unit":
                return Units[_random.Next(Units.Length)];
            default:
                throw new InvalidOperationException($"How is a {rule} written?");
        }
    }

    private string Digits() =>
        _random.Next(0, 90).ToString(CultureInfo.InvariantCulture) + (_random.Next(3) == 0 ? ".5" : "");

    private void Put(string? piece)
    {
        if (piece is null)
        {
            return;
        }

        _written++;
        if (_isLineStart)
        {
            _text.Append(' ', 2 * _depth);
        }
        else if (piece is not ("," or ")") && _text[^1] != '(')
        {
            _text.Append(' ');
        }

        _text.Append(piece);
        _isLineStart = false;
    }
}
