using System.Globalization;
using System.Numerics;
using System.Text.Json.Nodes;
using ProtocolKit.Emit.Code;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Sitting;

/// <summary>How the lines of the emitted scoring are told: their titles, their scales, and what cut-offs rest on.</summary>
internal static class ResultData
{
    public static void AddTo(JsonObject data, Protocol protocol)
    {
        var program = protocol.Program;
        data["outcomes"] = SittingData.List(program.Outcomes.Select(o => Outcome(o, program)));
        data["kept"] = SittingData.List(program.Kept.Select(Kept));
        data["bands"] = SittingData.List(program.Bands.Select(Band));
        data["actions"] = SittingData.List(program.Actions.Select(Action));
        data["headline"] = program.HeadlineLine;
        data["states"] = SittingData.Texts(Enum.GetValues<State>().Select(s => s.ToWords()));
    }

    private static JsonObject Outcome(OutcomeLines lines, ScoringProgram program) =>
        new()
        {
            ["name"] = lines.Outcome.Name,
            ["title"] = SittingData.Text(lines.Outcome.Title),
            ["isScore"] = lines.Outcome.IsScore,
            ["unit"] = lines.Outcome.Unit.IsPure ? "" : SittingData.Text(lines.Outcome.Unit.ToString()),
            ["state"] = lines.StateLine,
            ["low"] = lines.LowLine,
            ["high"] = lines.HighLine,
            ["lowBy"] = lines.LowDenominatorLine,
            ["highBy"] = lines.HighDenominatorLine,
            ["scale"] = SittingData.List([Whole(lines.Scale.Numerator), Whole(lines.Scale.Denominator)]),
            ["reads"] = SittingData.Texts(ProgramReads.Of(program, lines).Select(k => k.Key)),
            ["timing"] = SittingData.Text(lines.Outcome.TimingError),
            ["weaker"] = lines.Sides?.WeakerLine,
            ["table"] = lines.Outcome.Table is { } table
                ? SittingData.List([
                    SittingData.Text(table.OfTitle),
                    table.Basis.IsProvisional ? "provisional" : SittingData.Text(table.Basis.Text),
                ])
                : null,
        };

    private static JsonArray Kept(KeptLines kept) =>
        SittingData.List([
            kept.Key,
            kept.StateLine,
            SittingData.Text(kept.Task.Title),
            SittingData.Text(Paper.Words.Of(kept.Task, kept.Variant)),
        ]);

    private static JsonObject Band(BandLine band) =>
        new()
        {
            ["of"] = band.Table.Outcome.Name,
            ["short"] = band.Table.ShortForm,
            ["line"] = band.Line,
            ["names"] = SittingData.Texts(band.Table.Bands.Select(b => b.Name)),
            ["texts"] = SittingData.Texts(band.Table.Bands.Select(b => b.Text)),
            ["provisional"] = band.Table.Basis.IsProvisional,
            ["basis"] = SittingData.Text(band.Table.Basis.Text),
            ["children"] = band.Table.Basis.Children,
        };

    private static JsonObject Action(ActionLines lines) =>
        new()
        {
            ["name"] = lines.Action.Name,
            ["title"] = SittingData.Text(lines.Action.Title),
            ["urgency"] = SittingData.Text(lines.Action.Urgency),
            ["applies"] = lines.AppliesLine,
            ["appliesNot"] = lines.AppliesNotLine,
        };

    private static string Whole(BigInteger value) => value.ToString(CultureInfo.InvariantCulture);
}
