using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Paper.Cards;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Manual;

/// <summary>What the templates of the examiner manual see, in the order of its chapters.</summary>
/// <param name="Frame">Letterhead, page and foot.</param>
/// <param name="Contents">Headings with their pages.</param>
/// <param name="Facts">Ages, time, forms, languages.</param>
/// <param name="Purpose">What the protocol is for; missing where it doesn’t say.</param>
/// <param name="Limits">What the screen does not do.</param>
/// <param name="WhoGives">Who may give it, and when a new examiner is ready.</param>
/// <param name="Materials">What is needed.</param>
/// <param name="Before">What holds before and in every sitting.</param>
/// <param name="Cautions">Those that cover something, with what.</param>
/// <param name="Consents">What is asked for, one by one.</param>
/// <param name="Gates">Which answers of the case history close tasks.</param>
/// <param name="Order">Every task, in giving order.</param>
/// <param name="Codes">Why nothing could be rated.</param>
/// <param name="Sections">Tasks by section.</param>
/// <param name="ScoringRules">What holds of all scores, in words.</param>
/// <param name="Outcomes">Scores and measures.</param>
/// <param name="CutOffs">Tables with what they rest on.</param>
/// <param name="Actions">The most severe first.</param>
/// <param name="ReTests">What a change must exceed.</param>
/// <param name="Proofs">What is proved of every record.</param>
/// <param name="References">What the protocol names as its sources.</param>
/// <param name="Editions">What each edition changed.</param>
public sealed record ManualView(
    FrameView Frame,
    IReadOnlyList<ContentView> Contents,
    IReadOnlyList<FactView> Facts,
    string? Purpose,
    IReadOnlyList<string> Limits,
    IReadOnlyList<string> WhoGives,
    IReadOnlyList<MaterialView> Materials,
    IReadOnlyList<string> Before,
    IReadOnlyList<CautionView> Cautions,
    IReadOnlyList<string> Consents,
    IReadOnlyList<string> Gates,
    IReadOnlyList<OrderRowView> Order,
    IReadOnlyList<CodeMeaningView> Codes,
    IReadOnlyList<ManualSectionView> Sections,
    IReadOnlyList<string> ScoringRules,
    IReadOnlyList<OutcomeView> Outcomes,
    IReadOnlyList<ManualCutOffView> CutOffs,
    IReadOnlyList<ActionView> Actions,
    IReadOnlyList<FactView> ReTests,
    ProofsView Proofs,
    IReadOnlyList<string> References,
    IReadOnlyList<FactView> Editions
);

/// <param name="Id">Of the heading it leads to.</param>
/// <param name="Title">Of the heading.</param>
/// <param name="Level">1 for chapters, 2 for sections of tasks.</param>
/// <param name="Page">Replaced by the page number once it is known.</param>
public sealed record ContentView(string Id, string Title, int Level, Raw Page);

/// <summary>A task in the order of giving.</summary>
/// <param name="Number">In giving order, from 1.</param>
/// <param name="Title">Of the task.</param>
/// <param name="Section">Its section’s title.</param>
/// <param name="Contact">What the task touches, in words.</param>
/// <param name="ShortForm">The short form has it too.</param>
public sealed record OrderRowView(
    string Number,
    string Title,
    string Section,
    string Contact,
    bool ShortForm
);

/// <param name="Letter">What is circled.</param>
/// <param name="Text">When to use it.</param>
public sealed record CodeMeaningView(string Letter, string Text);

/// <summary>The tasks of one section, in the order in which they are given.</summary>
/// <param name="Id">For links of the contents.</param>
/// <param name="Title">Of the section.</param>
/// <param name="Introduction">The protocol’s own words; missing where it has none.</param>
/// <param name="Rules">Where to begin, what to leave out and when to stop.</param>
/// <param name="Tasks">In giving order.</param>
public sealed record ManualSectionView(
    string Id,
    string Title,
    string? Introduction,
    IReadOnlyList<string> Rules,
    IReadOnlyList<ManualTaskView> Tasks
);

/// <summary>A task as on its card.</summary>
/// <param name="Id">For links.</param>
/// <param name="Number">In giving order, from 1.</param>
/// <param name="Title">Of the task.</param>
/// <param name="Contact">What the task touches, in words.</param>
/// <param name="Touches">The task touches the face or the mouth.</param>
/// <param name="ShortForm">The short form has it too.</param>
/// <param name="Front">As on the front of its card.</param>
/// <param name="Back">As on the back of its card.</param>
public sealed record ManualTaskView(
    string Id,
    string Number,
    string Title,
    string Contact,
    bool Touches,
    bool ShortForm,
    IReadOnlyList<CardBlock> Front,
    IReadOnlyList<CardBlock> Back
);

/// <summary>A cut-off table with all that is said of its basis.</summary>
/// <param name="Title">Of the score, with its form.</param>
/// <param name="Form">Which form it is for; empty where there is one form alone.</param>
/// <param name="Bands">Their names, the worst first.</param>
/// <param name="Rows">The values of each band by age.</param>
/// <param name="Provisional">The cut-offs have too little evidence yet.</param>
/// <param name="Basis">What the cut-offs rest on.</param>
/// <param name="Details">Cases, reference judgement, blinding, dates, interval, as written.</param>
public sealed record ManualCutOffView(
    string Title,
    string Form,
    IReadOnlyList<string> Bands,
    IReadOnlyList<BandRowView> Rows,
    bool Provisional,
    string Basis,
    IReadOnlyList<string> Details
);
