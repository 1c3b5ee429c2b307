using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Tells one sitting for the team, with everything a colleague needs to judge it.</summary>
public static class TeamNotes
{
    /// <param name="earlier">An earlier sitting of the same child, for what changed since; null: nothing is said of change.</param>
    /// <param name="forTeamAlone">With the paragraphs that never leave the team.</param>
    /// <exception cref="ArgumentException">The earlier sitting is another child's, or the later one.</exception>
    public static TeamNote Of(ScoredRecord scored, ScoredRecord? earlier = null, bool forTeamAlone = false)
    {
        ArgumentNullException.ThrowIfNull(scored);
        var explained = Explanation.Of(scored);
        return new TeamNote
        {
            Protocol = scored.Protocol,
            Case = scored.Record.Case,
            Facts = NoteFacts.Of(scored),
            Result = explained.Result,
            Paragraphs = Paragraphs(scored, forTeamAlone),
            Actions = Texts(explained.Actions),
            Since = earlier is null ? [] : ReTestReports.Since(earlier, scored),
            Scores = NoteScores.Of(scored),
            Besides = NoteScores.Besides(scored),
            Profile = ProfileRows.Of(scored),
            Sections = [.. Sections(scored, explained).Where(s => s.Lines.Count > 0)],
            Limits = explained.Cautions,
            AnyProvisional = NoteScores
                .Told(scored)
                .Any(o => NoteScores.BandOf(scored, o) is { Row: not null, Table.Basis.IsProvisional: true }),
            IsForTeamAlone = forTeamAlone,
        };
    }

    private static List<NoteParagraph> Paragraphs(ScoredRecord scored, bool forTeamAlone)
    {
        var reader = forTeamAlone ? Audience.TeamOnly : Audience.Team;
        var values = ReportValues.Of(scored, null, reader);
        return
        [
            .. scored
                .Protocol.Texts.Where(t => t.Kind == ReportKind.Note && t.Audience <= reader)
                .SelectMany(t =>
                    t.Parts.Where(p => p.Audience <= reader)
                        .Select(p => new NoteParagraph(
                            p.Audience == Audience.TeamOnly,
                            ReportTexts.Fill(p, values)
                        ))
                )
                .Where(p => p.Text.Length > 0),
        ];
    }

    private static IEnumerable<NoteSection> Sections(ScoredRecord scored, Explanation explained) =>
        [
            new("Not tried", Texts(explained.Untried)),
            new("Not given", explained.NotGiven),
            new("Sides", SideNotes.Of(scored)),
            new("Help", HelpNotes(scored, explained)),
            new("Signs", explained.Observations),
            new("Events and corrections", explained.Events),
            new("Remarks", explained.Remarks),
            new("Every answer", Texts(explained.Answers)),
        ];

    /// <summary>The answers that had help, as they stand among all of them.</summary>
    private static List<string> HelpNotes(ScoredRecord scored, Explanation explained)
    {
        if (scored.Record.Help.Count == 0)
        {
            return ["No help was used."];
        }

        return
        [
            .. explained
                .Answers.Select(a => a.Text)
                .Where(t => t.Contains("; help used: ", StringComparison.Ordinal)),
        ];
    }

    private static List<string> Texts(IEnumerable<Explained> explained) => [.. explained.Select(e => e.Text)];
}
