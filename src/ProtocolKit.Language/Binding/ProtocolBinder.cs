using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>Statements of all files into one protocol with its scoring program.</summary>
internal sealed class ProtocolBinder(
    IReadOnlyList<SourceUnit> units,
    bool allFound,
    DiagnosticBag diagnostics
)
{
    private readonly Declarations _declared = new(units, allFound, diagnostics);
    private readonly WorkLimit _work = new(diagnostics);
    private readonly Dictionary<string, IReadOnlyList<Diagnostic>> _ofTasks = new(StringComparer.Ordinal);

    /// <summary>What binding one of its tasks anew needs; null where there were errors.</summary>
    public BoundProtocol? Bound { get; private set; }

    /// <summary>The protocol, complete only where nothing was reported as an error.</summary>
    public Protocol? Bind()
    {
        foreach (var unit in units.SkipLast(1))
        {
            HeaderBinder.CheckVersion(unit, diagnostics);
        }

        if (HeaderBinder.Bind(units[^1], diagnostics) is not { } header)
        {
            return null;
        }

        var vocabulary = new VocabularyBinder(_declared, diagnostics);
        var sections = Sections();
        var tasks = Tasks(vocabulary, sections, header);
        var gates = new GateBinder(_declared, [.. tasks.Select(t => t.Task)], diagnostics);
        var history = gates.Questions();
        var lowering = new ProtocolLowering(
            _declared,
            vocabulary,
            header,
            tasks,
            history,
            _work,
            diagnostics
        );
        var program = lowering.Lower();
        var careFrom = diagnostics.Found.Count;
        new CareChecks(tasks, vocabulary, _declared, lowering.Names, diagnostics).Run();
        var careTo = diagnostics.Found.Count;
        var protocol = Assemble(header, vocabulary, sections, tasks, program, lowering);
        var lateTo = diagnostics.Found.Count;
        protocol = protocol with { History = history, Events = gates.Events() };
        if (diagnostics.HasErrors)
        {
            return null;
        }

        protocol = protocol.FingerprintedBy(FingerprintWriter.Of);
        Bound = new BoundProtocol(protocol, _declared, vocabulary, sections, tasks, lowering)
        {
            Header = header,
            Work = _work,
            OfTasks = _ofTasks,
            OfRest = [.. diagnostics.Found.Take(careFrom), .. diagnostics.Found.Skip(lateTo)],
            OfCare = [.. diagnostics.Found.Take(careFrom..careTo)],
            OfParts = [.. diagnostics.Found.Take(careTo..lateTo)],
            Bag = diagnostics,
        };
        return protocol;
    }

    private Dictionary<string, Section> Sections()
    {
        var binder = new RoutingBinder(diagnostics);
        return _declared.Sections.Values.ToDictionary(s => s.Name.Text, binder.Bind, StringComparer.Ordinal);
    }

    private List<BoundTask> Tasks(
        VocabularyBinder vocabulary,
        Dictionary<string, Section> sections,
        BoundHeader header
    )
    {
        var binder = new TaskBinder(_declared, vocabulary, sections, _work, diagnostics);
        var bound = new List<BoundTask>(_declared.Tasks.Count);
        foreach (var (block, section) in _declared.Tasks)
        {
            var before = diagnostics.Found.Count;
            if (binder.Bind(block, section, bound.Count + 1) is { } task)
            {
                bound.Add(task);
            }

            if (diagnostics.Found.Count > before)
            {
                _ofTasks[block.Name.Text] = [.. diagnostics.Found.Skip(before)];
            }
        }

        if (header is { ShortFormMinutes: null, Incomplete: false })
        {
            foreach (var task in bound.Where(t => t.Task.ShortForm))
            {
                diagnostics.Report(
                    task.Block.Source,
                    task.Block.Name.Place,
                    MeaningMessages.ShortForm(
                        $"{task.Task.Name} belongs to a short form, but the header names none.",
                        "Add to the header, for example: short form 15 min"
                    )
                );
            }
        }

        return OrderBinder.Order(bound, _declared, diagnostics);
    }

    private Protocol Assemble(
        BoundHeader header,
        VocabularyBinder vocabulary,
        Dictionary<string, Section> sections,
        List<BoundTask> tasks,
        ScoringProgram program,
        ProtocolLowering lowering
    )
    {
        var bare = new Protocol
        {
            Name = header.Name,
            Title = header.Title,
            Edition = header.Edition,
            Ages = header.Ages ?? default,
            Materials = [.. vocabulary.Materials.Values],
            Cautions = vocabulary.Cautions,
            Scales = [.. vocabulary.Scales.Values],
            Observations = [.. vocabulary.Observations.Values],
            Sections = [.. sections.Values],
            Tasks = [.. tasks.Select(t => t.Task)],
            Program = program,
            Fingerprints = new Fingerprints("", "", ""),
        };
        return ProtocolParts.Rules(
            ProtocolParts.Header(bare, header),
            program,
            lowering,
            _declared,
            diagnostics
        );
    }
}
