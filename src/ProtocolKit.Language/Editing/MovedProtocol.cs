using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>A protocol whose statements stand in other lines than those under which they were read.</summary>
/// <param name="file">The file that was edited; modules stay where they are.</param>
internal sealed class MovedProtocol(string file, LineMap lines)
{
    private readonly Dictionary<object, object> _moved = new(ReferenceEqualityComparer.Instance);

    public Protocol Of(Protocol protocol) =>
        protocol with
        {
            Materials = Each(protocol.Materials, Of),
            Cautions = Each(protocol.Cautions, c => c with { Origin = Of(c.Origin) }),
            Scales = Each(protocol.Scales, Of),
            Observations = Each(protocol.Observations, Of),
            Sections = Each(protocol.Sections, Of),
            Tasks = Each(protocol.Tasks, Of),
            Outcomes = Each(protocol.Outcomes, Of),
            CutOffs = Each(protocol.CutOffs, Of),
            Actions = Each(protocol.Actions, Of),
            Claims = Each(protocol.Claims, Of),
            ReTests = Each(protocol.ReTests, r => r with { Outcome = Of(r.Outcome), Origin = Of(r.Origin) }),
            Readiness = protocol.Readiness is { } readiness
                ? readiness with
                {
                    Origin = Of(readiness.Origin),
                }
                : null,
            Texts = Each(protocol.Texts, t => t with { Origin = Of(t.Origin) }),
            History = Each(protocol.History, Of),
            Consents = Each(protocol.Consents, c => c with { Origin = Of(c.Origin) }),
            Events = Each(protocol.Events, e => e with { Origin = Of(e.Origin) }),
            Program = Of(protocol.Program),
        };

    private ScoringProgram Of(ScoringProgram program) =>
        program with
        {
            Answers = Each(program.Answers, a => a with { Task = Of(a.Task), Response = Of(a.Response) }),
            Observations = Each(
                program.Observations,
                o => o with { Task = Of(o.Task), Observation = Of(o.Observation) }
            ),
            History = Each(program.History, h => h with { Question = Of(h.Question) }),
            Giving = Each(program.Giving, g => g with { Task = Of(g.Task) }),
            Kept = Each(program.Kept, k => k with { Task = Of(k.Task), Response = Of(k.Response) }),
            Outcomes = Each(program.Outcomes, o => o with { Outcome = Of(o.Outcome), Sides = Of(o.Sides) }),
            Bands = Each(program.Bands, b => b with { Table = Of(b.Table) }),
            Actions = Each(program.Actions, a => a with { Action = Of(a.Action) }),
            Claims = Each(program.Claims, c => c with { Claim = Of(c.Claim) }),
        };

    private SideLines? Of(SideLines? sides) =>
        sides is null ? null : sides with { Tasks = Each(sides.Tasks, t => t with { Task = Of(t.Task) }) };

    private ProtocolTask Of(ProtocolTask task) =>
        Once(
            task,
            t =>
                t with
                {
                    Section = t.Section is { } section ? Of(section) : null,
                    Materials = Each(t.Materials, Of),
                    Responses = Each(t.Responses, Of),
                    Ticks = Each(t.Ticks, k => k with { Observation = Of(k.Observation) }),
                    Skips = Each(t.Skips, s => s with { Origin = Of(s.Origin) }),
                    Origin = Of(t.Origin),
                }
        );

    private Response Of(Response response) =>
        Once(
            response,
            r => r with { Scale = r.Scale is { } scale ? Of(scale) : null, Origin = Of(r.Origin) }
        );

    private Section Of(Section section) =>
        Once(
            section,
            s =>
                s with
                {
                    StartPoints = Each(s.StartPoints, p => p with { Origin = Of(p.Origin) }),
                    Stop = s.Stop is { } stop ? stop with { Origin = Of(stop.Origin) } : null,
                    Skips = Each(s.Skips, k => k with { Origin = Of(k.Origin) }),
                    Origin = Of(s.Origin),
                }
        );

    private Outcome Of(Outcome outcome) =>
        Once(
            outcome,
            o =>
                o with
                {
                    ClaimedRange = o.ClaimedRange is { } claim
                        ? claim with
                        {
                            Origin = Of(claim.Origin),
                        }
                        : null,
                    Origin = Of(o.Origin),
                }
        );

    private CutOffTable Of(CutOffTable table) =>
        Once(
            table,
            t =>
                t with
                {
                    Outcome = Of(t.Outcome),
                    Rows = Each(t.Rows, r => r with { Origin = Of(r.Origin) }),
                    Origin = Of(t.Origin),
                }
        );

    private HistoryQuestion Of(HistoryQuestion question) =>
        Once(
            question,
            q =>
                q with
                {
                    Gates = Each(q.Gates, g => g with { Origin = Of(g.Origin) }),
                    Origin = Of(q.Origin),
                }
        );

    private Material Of(Material material) => Once(material, m => m with { Origin = Of(m.Origin) });

    private Scale Of(Scale scale) => Once(scale, s => s with { Origin = Of(s.Origin) });

    private Observation Of(Observation sign) => Once(sign, o => o with { Origin = Of(o.Origin) });

    private ProtocolAction Of(ProtocolAction action) => Once(action, a => a with { Origin = Of(a.Origin) });

    private Claim Of(Claim claim) => Once(claim, c => c with { Origin = Of(c.Origin) });

    private Origin Of(Origin origin) =>
        origin.File == file ? origin with { Line = lines.Now(origin.Line) } : origin;

    /// <summary>One thing stays one thing, wherever it is named.</summary>
    private T Once<T>(T thing, Func<T, T> move)
        where T : class
    {
        if (_moved.TryGetValue(thing, out var moved))
        {
            return (T)moved;
        }

        var made = move(thing);
        _moved[thing] = made;
        return made;
    }

    private static T[] Each<T>(IReadOnlyList<T> all, Func<T, T> move)
    {
        var moved = new T[all.Count];
        for (var i = 0; i < moved.Length; i++)
        {
            moved[i] = move(all[i]);
        }

        return moved;
    }
}
