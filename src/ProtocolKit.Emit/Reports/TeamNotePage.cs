using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Reports;

/// <summary>The team's note on one sitting, as a page.</summary>
public static class TeamNotePage
{
    /// <exception cref="TemplateFaultException">A template is at fault.</exception>
    public static Artefact Render(TeamNote note, OutputOptions options, TemplateSource templates)
    {
        ArgumentNullException.ThrowIfNull(note);
        ArgumentNullException.ThrowIfNull(options);
        return new(
            $"note-{FileNames.Safe(note.Case)}.html",
            TemplateRenderer.Html(templates, "team-note/note.html", View(note, options)),
            true
        )
        {
            Purpose = $"team note on case {note.Case}",
        };
    }

    internal static TeamNoteView View(TeamNote note, OutputOptions options)
    {
        var duties = new[] { Duties.WhoGives, Duties.NonSpeech, Duties.Languages, Duties.ReferToday };
        return new(
            ReportFrame.Of(
                note.Protocol,
                "Team note",
                $"case {note.Case}, edition {note.Protocol.Edition}",
                options
            ),
            note.IsForTeamAlone,
            [.. note.Facts.Select(f => new FactView(f.Name, f.Text))],
            note.Result,
            [.. note.Paragraphs.Select(p => new NoteParagraphView(p.ForTeamAlone, p.Text))],
            note.Actions,
            note.Since,
            [.. note.Scores.Select(s => new NoteScoreView(s.Title, s.Value, s.Untried, s.Band, s.Basis))],
            note.Besides,
            note.Profile.Count == 0 ? null : ProfileChart.Of(note.Profile),
            [.. note.Sections.Select(s => new NoteSectionView(s.Title, s.Lines, s.Lines.Count > LongList))],
            note.AnyProvisional,
            [
                Duties.NoDiagnosis.In(note.Protocol),
                .. duties.Select(d => d.In(note.Protocol)),
                .. note.Limits.Skip(1),
            ]
        );
    }

    /// <summary>More lines than this stand in two columns.</summary>
    private const int LongList = 14;
}

/// <summary>What the template of the team note sees.</summary>
/// <param name="Frame">Letterhead, page and foot.</param>
/// <param name="ForTeamAlone">Holds texts that must not leave the team.</param>
/// <param name="Facts">Of the sitting: who, when, how.</param>
/// <param name="Result">The headline first.</param>
/// <param name="Paragraphs">The protocol’s own text, filled in.</param>
/// <param name="Actions">Every one, with whether it applies.</param>
/// <param name="Since">What changed since an earlier sitting.</param>
/// <param name="Scores">With bands and what they rest on.</param>
/// <param name="Besides">Values without cut-offs.</param>
/// <param name="Profile">The drawing of section scores; null where nothing can be drawn.</param>
/// <param name="Sections">Untried, sides, help, signs, events.</param>
/// <param name="AnyProvisional">Some of the cut-offs have too little evidence yet.</param>
/// <param name="Limits">What the figures can’t say; the duties of every report.</param>
public sealed record TeamNoteView(
    FrameView Frame,
    bool ForTeamAlone,
    IReadOnlyList<FactView> Facts,
    IReadOnlyList<string> Result,
    IReadOnlyList<NoteParagraphView> Paragraphs,
    IReadOnlyList<string> Actions,
    IReadOnlyList<string> Since,
    IReadOnlyList<NoteScoreView> Scores,
    IReadOnlyList<string> Besides,
    ChartView? Profile,
    IReadOnlyList<NoteSectionView> Sections,
    bool AnyProvisional,
    IReadOnlyList<string> Limits
);

/// <param name="ForTeamAlone">It must not leave the team.</param>
/// <param name="Text">As it is printed.</param>
public sealed record NoteParagraphView(bool ForTeamAlone, string Text);

/// <param name="Title">Of the score or measure.</param>
/// <param name="Value">Or the two ends between which it lies.</param>
/// <param name="Untried">What was not tried of it; empty where all was.</param>
/// <param name="Band">Its name, or that it is undecided.</param>
/// <param name="Basis">What the cut-offs rest on.</param>
public sealed record NoteScoreView(string Title, string Value, string Untried, string Band, string Basis);

/// <param name="Title">Its heading.</param>
/// <param name="Lines">A sentence each.</param>
/// <param name="Long">So many lines that they stand in two columns.</param>
public sealed record NoteSectionView(string Title, IReadOnlyList<string> Lines, bool Long);
