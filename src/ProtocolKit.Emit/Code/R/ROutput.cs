using System.Globalization;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.R;

/// <summary>Scoring code as R functions over a data frame, with nothing but base R.</summary>
public sealed class ROutput : CodeOutput
{
    /// <summary>R's parser holds 50 open brackets.</summary>
    private const int MostBrackets = 45;

    public override string Kind => "r";

    public override string Purpose => "scoring code: R functions over a data frame, base R alone";

    protected override string TemplateName => "r/scoring.R";

    /// <summary>The language's own words, and the functions lines call.</summary>
    protected override IReadOnlyList<string> Reserved { get; } =
        (
            "if else repeat while function next break TRUE FALSE NULL Inf NaN NA NA_integer_ NA_real_ "
            + "NA_character_ NA_complex_ in for T F c list fields pick first_of pmin pmax floor"
        ).Split(' ');

    public override string FileName(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return protocol.Name + ".R";
    }

    internal override int IndentOfLines => 2;

    internal override bool BracketsLongExpressions => true;

    internal override Raw Nothing => new("NA");

    internal override Raw Truth(bool value) => new(value ? "TRUE" : "FALSE");

    internal override Raw Number(Rational value)
    {
        var text = value.ToString();
        return new Raw(text.Contains('/', StringComparison.Ordinal) ? $"({text})" : text);
    }

    internal override Raw Quote(string text) => new(RText.Quote(text));

    internal override ExpressionWriter Writer(IReadOnlyList<string> fields, IReadOnlyList<string> lines) =>
        new RWriter(fields, lines);

    internal override object View(Protocol protocol)
    {
        var view = CodeViews.Of(protocol, this);
        var deep = view.Lines.FirstOrDefault(l => Depth(l.Code.Text) > MostBrackets);
        return deep is null
            ? view
            : throw new OutputRefusedException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"r: {deep.Name} nests brackets more than {MostBrackets} deep, which R does not read. Break the score into several."
                )
            );
    }

    private static int Depth(string code)
    {
        var (depth, most) = (0, 0);
        foreach (var c in code)
        {
            depth += c switch
            {
                '(' => 1,
                ')' => -1,
                _ => 0,
            };
            most = Math.Max(most, depth);
        }

        return most;
    }
}
