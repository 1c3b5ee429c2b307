using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Paper.Cards;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Manual;

/// <summary>What the templates of the examiner manual see, in the order of its chapters.</summary>
/// <param name="Facts">Ages, time, forms, languages.</param>
/// <param name="Limits">What the screen does not do.</param>
/// <param name="Before">What holds before and in every sitting.</param>
/// <param name="ProofLimits">What the proofs don't say.</param>
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
/// <param name="Level">1 for chapters, 2 for sections of tasks.</param>
/// <param name="Page">Replaced by the page number once it is known.</param>
public sealed record ContentView(string Id, string Title, int Level, Raw Page);

/// <summary>A task in the order of giving.</summary>
public sealed record OrderRowView(
    string Number,
    string Title,
    string Section,
    string Contact,
    bool ShortForm
);

public sealed record CodeMeaningView(string Letter, string Text);

/// <summary>The tasks of one section, in the order in which they are given.</summary>
public sealed record ManualSectionView(
    string Id,
    string Title,
    string? Introduction,
    IReadOnlyList<string> Rules,
    IReadOnlyList<ManualTaskView> Tasks
);

/// <summary>A task as on its card.</summary>
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
/// <param name="Form">Which form it is for; empty where there is one form alone.</param>
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
