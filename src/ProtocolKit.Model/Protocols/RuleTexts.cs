namespace ProtocolKit.Model;

/// <summary>The printed texts of measures, scores, cut-offs, actions, claims and re-tests, each rewritten once.</summary>
internal sealed class RuleTexts
{
    private readonly Dictionary<string, Outcome> _outcomes;
    private readonly Dictionary<string, Band> _bands;
    private readonly Dictionary<string, ProtocolAction> _actions;
    private readonly Dictionary<(string, bool), CutOffTable> _tables;
    private readonly Func<string, string> _printed;

    public RuleTexts(Protocol protocol, Func<string, string> printed)
    {
        _printed = printed;
        _outcomes = protocol.Program.Outcomes.ToDictionary(
            o => o.Outcome.Name,
            o => o.Outcome with { Title = printed(o.Outcome.Title), Table = Looked(o.Outcome.Table) },
            StringComparer.Ordinal
        );
        _bands = protocol
            .Program.Bands.SelectMany(b => b.Table.Bands)
            .DistinctBy(b => b.Name)
            .ToDictionary(b => b.Name, b => b with { Text = printed(b.Text) }, StringComparer.Ordinal);
        _tables = protocol.CutOffs.ToDictionary(t => (t.Outcome.Name, t.ShortForm), Table);
        _actions = protocol.Actions.ToDictionary(a => a.Name, Action, StringComparer.Ordinal);
        Outcomes = [.. protocol.Outcomes.Select(Of)];
        Bands = [.. protocol.Bands.Select(b => _bands[b.Name])];
        CutOffs = [.. protocol.CutOffs.Select(Of)];
        Actions = [.. protocol.Actions.Select(Of)];
        Claims = [.. protocol.Claims.Select(Of)];
        ReTests =
        [
            .. protocol.ReTests.Select(r => r with { Outcome = Of(r.Outcome), Basis = printed(r.Basis) }),
        ];
    }

    public IReadOnlyList<Outcome> Outcomes { get; }
    public IReadOnlyList<Band> Bands { get; }
    public IReadOnlyList<CutOffTable> CutOffs { get; }
    public IReadOnlyList<ProtocolAction> Actions { get; }
    public IReadOnlyList<Claim> Claims { get; }
    public IReadOnlyList<ReTest> ReTests { get; }

    public Outcome Of(Outcome outcome) => _outcomes[outcome.Name];

    public CutOffTable Of(CutOffTable table) => _tables[(table.Outcome.Name, table.ShortForm)];

    public ProtocolAction Of(ProtocolAction action) => _actions[action.Name];

    public Claim Of(Claim claim) => claim with { Text = _printed(claim.Text) };

    private LookupTable? Looked(LookupTable? table) =>
        table is null
            ? null
            : table with
            {
                OfTitle = _printed(table.OfTitle),
                Basis = table.Basis with { Text = _printed(table.Basis.Text) },
            };

    private CutOffTable Table(CutOffTable table) =>
        table with
        {
            Outcome = Of(table.Outcome),
            Bands = [.. table.Bands.Select(b => _bands[b.Name])],
            Basis = table.Basis with { Text = _printed(table.Basis.Text) },
            WorseOnPurpose = table.WorseOnPurpose is { } reason ? _printed(reason) : null,
        };

    private ProtocolAction Action(ProtocolAction action) =>
        action with
        {
            Title = _printed(action.Title),
            Urgency = action.Urgency is { } urgency ? _printed(urgency) : null,
            WorseOnPurpose = action.WorseOnPurpose is { } reason ? _printed(reason) : null,
        };
}
