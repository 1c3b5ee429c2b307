using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Binding;

/// <summary>All statements of all files, sorted by what they declare.</summary>
internal sealed class Declarations
{
    private readonly HashSet<(string Word, string Name)> _broken = [];
    private readonly HashSet<string> _brokenWords = new(StringComparer.Ordinal);

    /// <param name="allFound">False where a module that is used could not be found.</param>
    public Declarations(IReadOnlyList<SourceUnit> units, bool allFound, DiagnosticBag diagnostics)
    {
        AllFound = allFound;
        Scales = new("scale", diagnostics, allFound);
        Families = new("family", diagnostics, allFound);
        Observations = new("observation", diagnostics, allFound);
        Materials = new("material", diagnostics, allFound);
        Cautions = new("caution", diagnostics, allFound);
        Bands = new("band", diagnostics, allFound);
        Sections = new("section", diagnostics, allFound);
        Values = new("task, measure or score", diagnostics, allFound, units.Sum(Size))
        {
            KindOf = s =>
                s is TaskBlock ? "task"
                : s is OutcomeBlock { Lookup: not null } ? "table"
                : s is OutcomeBlock { Sides: not null } ? "side difference"
                : s is OutcomeBlock { IsScore: true } ? "score"
                : "measure",
        };
        foreach (var unit in units)
        {
            foreach (var statement in unit.Statements)
            {
                Sort(statement);
            }
        }
    }

    private static int Size(SourceUnit unit) =>
        unit.Statements.Sum(s => s is SectionBlock section ? section.Body.Count : 1);

    public bool AllFound { get; }
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

    /// <summary>True where an action's line could not be read.</summary>
    public bool MayMissActions { get; private set; }
    public List<ClaimBlock> Claims { get; } = [];
    public List<ReTestBlock> ReTests { get; } = [];
    public List<ReportTextBlock> Texts { get; } = [];
    public List<ReadinessBlock> Readiness { get; } = [];
    public List<AskLine> Questions { get; } = [];
    public List<ConsentLine> Consents { get; } = [];
    public List<EventLine> Events { get; } = [];
    public List<GivingOrderBlock> Orders { get; } = [];

    /// <summary>True where a statement that begins with this word could not be read.</summary>
    public bool HasBroken(string word) => _brokenWords.Contains(word) || _brokenWords.Contains("");

    /// <summary>True where such a statement about this name could not be read.</summary>
    public bool HasBroken(string word, string name) =>
        _broken.Contains((word, name)) || _broken.Contains(("", name));

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
                MayMissActions |= s.Incomplete;
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
            case ReadinessBlock s:
                Readiness.Add(s);
                break;
            case CaseHistoryBlock s:
                Questions.AddRange(s.Questions);
                break;
            case ConsentsBlock s:
                Consents.AddRange(s.Consents);
                break;
            case EventLine s:
                Events.Add(s);
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

    /// <summary>
    /// Puts a statement in the place of its earlier reading; false where what it declares is another thing, or is known to more
    /// than the rules that name it.
    /// </summary>
    public bool Replace(Statement old, Statement anew, Undo undo)
    {
        switch (old, anew)
        {
            case (OutcomeBlock a, OutcomeBlock b) when a.Name.Text == b.Name.Text:
                Values.Replace(b.Name, b.Source, b, undo);
                return Replace(Outcomes, [a], [b], undo);
            case (OutcomeBlock a, OutcomeBlock b):
                return Values.Rename(a.Name.Text, b.Name, b.Source, b, undo)
                    && Replace(Outcomes, [a], [b], undo);
            case (CutOffsBlock a, CutOffsBlock b):
                return Replace(CutOffs, [a], [b], undo);
            case (ActionsBlock a, ActionsBlock b):
                var mayMiss = MayMissActions;
                undo.Add(() => MayMissActions = mayMiss);
                MayMissActions |= b.Incomplete;
                return Replace(Actions, a.Actions, b.Actions, undo);
            case (ClaimBlock a, ClaimBlock b):
                return Replace(Claims, [a], [b], undo);
            case (ReTestBlock a, ReTestBlock b):
                return Replace(ReTests, [a], [b], undo);
            case (ReportTextBlock a, ReportTextBlock b):
                return Replace(Texts, [a], [b], undo);
            case (ReadinessBlock a, ReadinessBlock b):
                return Replace(Readiness, [a], [b], undo);
            case (ConsentsBlock a, ConsentsBlock b):
                return Replace(Consents, a.Consents, b.Consents, undo);
            default:
                return false;
        }
    }

    /// <summary>Whether it is a task that stands before another.</summary>
    public bool IsBefore(Statement one, string task) =>
        Tasks.FindIndex(t => ReferenceEquals(t.Task, one)) is >= 0 and var at
        && at < Tasks.FindIndex(t => t.Task.Name.Text == task);

    /// <summary>A task under another name; false where that is taken.</summary>
    public bool Rename(string old, TaskBlock anew, Undo undo)
    {
        if (!Values.Rename(old, anew.Name, anew.Source, anew, undo))
        {
            return false;
        }

        var at = Tasks.FindIndex(t => t.Task.Name.Text == old);
        var before = Tasks[at];
        Tasks[at] = (anew, before.Section);
        undo.Add(() => Tasks[at] = before);
        return true;
    }

    /// <summary>Takes out a measure or score whose line can't be read any more; its name is forgiven.</summary>
    public void Remove(OutcomeBlock outcome, Undo undo)
    {
        Values.Remove(outcome.Name.Text, undo);
        Replace(Outcomes, [outcome], [], undo);
    }

    /// <summary>Takes out cut-offs whose line can't be read any more.</summary>
    public void Remove(CutOffsBlock table, Undo undo) => Replace(CutOffs, [table], [], undo);

    /// <summary>Forgives, for a while, what a line that can't be read any more may have declared.</summary>
    public void Forgive(BrokenStatement broken, Undo undo)
    {
        if (_brokenWords.Add(broken.Word))
        {
            undo.Add(() => _brokenWords.Remove(broken.Word));
        }

        foreach (var name in broken.Names)
        {
            if (_broken.Add((broken.Word, name)))
            {
                undo.Add(() => _broken.Remove((broken.Word, name)));
            }

            Scales.Forgive(name, undo);
            Families.Forgive(name, undo);
            Observations.Forgive(name, undo);
            Materials.Forgive(name, undo);
            Sections.Forgive(name, undo);
            Values.Forgive(name, undo);
        }
    }

    /// <summary>Some that stand together in the place of others that do.</summary>
    private static bool Replace<T>(List<T> all, List<T> old, List<T> anew, Undo undo)
        where T : Statement
    {
        var at = old.Count == 0 ? -1 : all.FindIndex(s => ReferenceEquals(s, old[0]));
        if (at < 0)
        {
            return false;
        }

        all.RemoveRange(at, old.Count);
        all.InsertRange(at, anew);
        undo.Add(() =>
        {
            all.RemoveRange(at, anew.Count);
            all.InsertRange(at, old);
        });
        return true;
    }

    /// <summary>A broken line may have declared anything: uses of its name are not mistakes of their own.</summary>
    private void Forgive(BrokenStatement broken)
    {
        Forgive(broken, new Undo());
        foreach (var inner in broken.Body)
        {
            Sort(inner);
        }
    }
}
