using System.Globalization;
using ProtocolKit.Emit.Code.CSharp;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Properties;

/// <summary>
/// Tests that hold for every record of a protocol, for xunit and FsCheck: records drawn exactly by ProtocolKit.Testing, the band
/// of every row of cut-offs and the headline, said by the emitted C# beside this file.
/// </summary>
public sealed class PropertyTestsOutput : IOutput
{
    public string Kind => "property-tests";

    public string Purpose =>
        "tests in C# (xunit, FsCheck): the emitted scoring on records drawn for every band and action";

    public IReadOnlyList<Artefact> Render(Protocol protocol, OutputOptions options, TemplateSource templates)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        var model = TemplateModel.From(View(protocol));
        var text = TemplateRenderer.Render(
            templates,
            "property-tests/properties.cs",
            model,
            new CodeContext()
        );
        return [new Artefact(TypeName(protocol) + ".cs", text)];
    }

    /// <summary>The class of the tests.</summary>
    public static string TypeName(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return CodeNames.OfType(protocol.Name) + "Properties";
    }

    private static PropertyTestsView View(Protocol protocol) =>
        new(
            CodeText.Comments(protocol.Title),
            [.. CodeHeader.Identity(protocol).SelectMany(CodeText.Comments)],
            [.. CodeHeader.Cautions(protocol).SelectMany(CodeText.Comments)],
            new Raw(TypeName(protocol)),
            new Raw(CSharpOutput.TypeName(protocol)),
            CodeText.Quote(protocol.Name + ".protocol"),
            CodeText.Quote(protocol.Fingerprints.Interpretation),
            [.. protocol.CutOffs.SelectMany(CellsOf)],
            [.. protocol.Program.Actions.Select(a => CodeText.Quote(a.Action.Name))]
        );

    private static IEnumerable<CellView> CellsOf(CutOffTable table) =>
        from row in table.Rows
        from cell in row.Cells.Select((c, i) => (Limits: c, Band: table.Bands[i]))
        where cell.Limits is not null
        select new CellView(
            CodeText.Quote(table.Outcome.Name),
            new Raw(table.ShortForm ? "true" : "false"),
            Months(row.Ages.From),
            Months(row.Ages.To),
            CodeText.Quote(cell.Limits.From.ToString()),
            CodeText.Quote(cell.Limits.To.ToString()),
            CodeText.Quote(cell.Band.Name)
        );

    private static Raw Months(Age age) => new(age.Months.ToString(CultureInfo.InvariantCulture));
}

/// <param name="ProtocolFile">The name of the protocol's text, as a string.</param>
/// <param name="Cells">Every filled cell of every table of cut-offs.</param>
/// <param name="Actions">Their names, as strings.</param>
internal sealed record PropertyTestsView(
    IReadOnlyList<Raw> TitleComment,
    IReadOnlyList<Raw> IdentityComment,
    IReadOnlyList<Raw> CautionComment,
    Raw TypeName,
    Raw ScoringType,
    Raw ProtocolFile,
    Raw Interpretation,
    IReadOnlyList<CellView> Cells,
    IReadOnlyList<Raw> Actions
);

/// <param name="From">Months.</param>
/// <param name="Low">In the outcome's unit, as a string.</param>
internal sealed record CellView(Raw Outcome, Raw ShortForm, Raw From, Raw To, Raw Low, Raw High, Raw Band);
