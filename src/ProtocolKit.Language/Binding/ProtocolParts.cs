using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>The parts of a protocol that are put in as a whole, the first time and after an edit.</summary>
internal static class ProtocolParts
{
    public static Protocol Header(Protocol protocol, BoundHeader header) =>
        protocol with
        {
            Name = header.Name,
            Title = header.Title,
            Edition = header.Edition,
            Ages = header.Ages ?? default,
            CorrectedUntil = header.CorrectedUntil,
            EditionNotes = header.EditionNotes,
            Language = header.Language,
            Translations = header.Translations,
            Sitting = header.Sitting,
            ShortFormMinutes = header.ShortFormMinutes,
            Purpose = header.Purpose,
            Examiner = header.Examiner,
            References = header.References,
        };

    /// <summary>Values, bands, actions and claims, and what is said about them: re-tests, readiness, letters, consents.</summary>
    public static Protocol Rules(
        Protocol protocol,
        ScoringProgram program,
        ProtocolLowering lowering,
        Declarations declared,
        DiagnosticBag diagnostics
    ) =>
        protocol with
        {
            Outcomes = [.. program.Outcomes.Select(o => o.Outcome)],
            Bands = [.. program.Bands.SelectMany(b => b.Table.Bands).DistinctBy(b => b.Name)],
            CutOffs = [.. program.Bands.Select(b => b.Table)],
            Actions = [.. program.Actions.Select(a => a.Action)],
            Claims = [.. program.Claims.Select(c => c.Claim)],
            ReTests = lowering.ReTests(),
            Readiness = new ReadinessBinder(declared, program, lowering.Tasks, diagnostics).Bind(),
            Texts = new ReportTextBinder(declared, diagnostics).Bind(),
            Consents = Consents(declared, diagnostics),
            Program = program,
        };

    private static List<Consent> Consents(Declarations declared, DiagnosticBag diagnostics)
    {
        var symbols = new Symbols<ConsentLine>("consent", diagnostics);
        return
        [
            .. declared
                .Consents.Where(c => symbols.Declare(c.Name, c.Source, c))
                .Select(c => new Consent(c.Name.Text, c.Text.Text, c.Source.OriginOf(c.Place))),
        ];
    }
}
