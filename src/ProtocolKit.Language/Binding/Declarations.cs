using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Binding;

/// <summary>All statements of all files, sorted by what they declare.</summary>
internal sealed class Declarations
{
    private readonly DiagnosticBag _diagnostics;

    public Declarations(IReadOnlyList<SourceUnit> units, DiagnosticBag diagnostics)
    {
        _diagnostics = diagnostics;
        Scales = new("scale", diagnostics);
        Families = new("family", diagnostics);
        Observations = new("observation", diagnostics);
        Materials = new("material", diagnostics);
        Cautions = new("caution", diagnostics);
        Bands = new("band", diagnostics);
        Sections = new("section", diagnostics);
        Values = new("task, measure or score", diagnostics);
        foreach (var unit in units)
        {
            foreach (var statement in unit.Statements)
            {
                Sort(statement);
            }
        }
    }

    public Symbols<ScaleBlock> Scales { get; }
    public Symbols<FamilyBlock> Families { get; }
    public Symbols<ObservationLine> Observations { get; }
    public Symbols<MaterialLine> Materials { get; }
    public Symbols<CautionBlock> Cautions { get; }
    public Symbols<BandLineStatement> Bands { get; }
    public Symbols<SectionBlock> Sections { get; }

    /// <summary>Tasks, measures and scores share their names: rules speak of any of them.</summary>
    public Symbols<Statement> Values { get; }
    public List<(TaskBlock Task, SectionBlock? Section)> Tasks { get; } = [];
    public List<OutcomeBlock> Outcomes { get; } = [];
    public List<CutOffsBlock> CutOffs { get; } = [];
    public List<ActionLine> Actions { get; } = [];
    public List<ClaimBlock> Claims { get; } = [];
    public List<ReTestBlock> ReTests { get; } = [];
    public List<ReportTextBlock> Texts { get; } = [];
    public List<AskLine> Questions { get; } = [];
    public List<ConsentLine> Consents { get; } = [];
    public List<GivingOrderBlock> Orders { get; } = [];

    private void Sort(Statement statement)
    {
        switch (statement)
        {
            case ScaleBlock s:
                Scales.Declare(s.Name, s.Source, s);
                break;
            case FamilyBlock s:
                Families.Declare(s.Name, s.Source, s);
                break;
            case ObservationLine s:
                Observations.Declare(s.Name, s.Source, s);
                break;
            case MaterialLine s:
                Materials.Declare(s.Name, s.Source, s);
                break;
            case CautionBlock s:
                Cautions.Declare(s.Name, s.Source, s);
                break;
            case BandLineStatement s:
                Bands.Declare(s.Name, s.Source, s);
                break;
            case SectionBlock s:
                Section(s);
                break;
            case TaskBlock s:
                Task(s, null);
                break;
            case OutcomeBlock s:
                Outcome(s);
                break;
            case GivingOrderBlock s:
                Orders.Add(s);
                break;
            default:
                SortRule(statement);
                break;
        }
    }

    private void SortRule(Statement statement)
    {
        switch (statement)
        {
            case CutOffsBlock s:
                CutOffs.Add(s);
                break;
            case ActionsBlock s:
                Actions.AddRange(s.Actions);
                break;
            case ClaimBlock s:
                Claims.Add(s);
                break;
            case ReTestBlock s:
                ReTests.Add(s);
                break;
            case ReportTextBlock s:
                Texts.Add(s);
                break;
            case CaseHistoryBlock s:
                Questions.AddRange(s.Questions);
                break;
            case ConsentsBlock s:
                Consents.AddRange(s.Consents);
                break;
            case BrokenStatement s:
                Forgive(s);
                break;
        }
    }

    private void Section(SectionBlock section)
    {
        Sections.Declare(section.Name, section.Source, section);
        foreach (var inner in section.Body)
        {
            switch (inner)
            {
                case TaskBlock task:
                    Task(task, section);
                    break;
                case OutcomeBlock outcome:
                    Outcome(outcome);
                    break;
                case BrokenStatement broken:
                    Forgive(broken);
                    break;
            }
        }
    }

    private void Task(TaskBlock task, SectionBlock? section)
    {
        if (Values.Declare(task.Name, task.Source, task))
        {
            Tasks.Add((task, section));
        }
    }

    private void Outcome(OutcomeBlock outcome)
    {
        if (Values.Declare(outcome.Name, outcome.Source, outcome))
        {
            Outcomes.Add(outcome);
        }
    }

    /// <summary>A broken line may have declared anything: uses of its name are not mistakes of their own.</summary>
    private void Forgive(BrokenStatement broken)
    {
        if (broken.Name is { } name)
        {
            Scales.Forgive(name);
            Families.Forgive(name);
            Observations.Forgive(name);
            Materials.Forgive(name);
            Sections.Forgive(name);
            Values.Forgive(name);
        }

        foreach (var inner in broken.Body)
        {
            Sort(inner);
        }
    }
}
