namespace ProtocolKit.Proof.Engine;

/// <summary>
/// A space in which conditions that many tasks wait for, such as the skip of a section, are filled in ahead like answers, and held
/// against what they come to once that is known. A section can then be worked out by itself, for either outcome.
/// </summary>
internal sealed class GuessedSpace : Space
{
    private const int FirstKey = 1 << 24;

    private readonly Space _answers;
    private readonly List<Node> _guesses = [];
    private readonly List<Node> _actual = [];
    private readonly List<int> _tasks = [];
    private readonly GraphRewrite _rewrite;

    /// <param name="together">What is guessed: conditions of one list are one part of the work.</param>
    public GuessedSpace(Space answers, Graph graph, IReadOnlyList<IReadOnlyList<Node>> together)
    {
        _answers = answers;
        List<Node> conditions = [.. together.SelectMany(c => c)];
        _tasks = [.. together.SelectMany((c, i) => c.Select(_ => int.MaxValue - i))];
        _guesses = [.. conditions.Select(c => graph.Field(FirstKey + c.Id, 0, 1, []))];
        var guesses = conditions.Zip(_guesses).ToDictionary(g => g.First, g => g.Second);
        _rewrite = new GraphRewrite(graph, new Dictionary<Node, Node>(guesses));
        foreach (var condition in conditions)
        {
            var others = new Dictionary<Node, Node>(guesses);
            others.Remove(condition);
            _actual.Add(new GraphRewrite(graph, others).Of(condition));
        }

        Conditions =
        [
            .. answers.Conditions.Select(c => (c.Task, Of(c.Condition))),
            .. _guesses.Select((g, i) => (_tasks[i], graph.Equal(_actual[i], g))),
        ];
    }

    /// <summary>The same value, read off guesses.</summary>
    public Node Of(Node node) => _rewrite.Of(node);

    public override IReadOnlyList<(int Task, Node Condition)> Conditions { get; }
    public override int PartCount => _answers.PartCount + _guesses.Count;

    public override PartRows RowsOf(int part) =>
        part < _answers.PartCount
            ? _answers.RowsOf(part)
            : new PartRows(
                [_guesses[part - _answers.PartCount]],
                [
                    [0, 1],
                ],
                [0, 0]
            );

    public override (int Task, int Trial) PlaceOf(int part) =>
        part < _answers.PartCount ? _answers.PlaceOf(part) : (_tasks[part - _answers.PartCount], 0);

    public override int PartOf(int field) =>
        field < FirstKey
            ? _answers.PartOf(field)
            : _answers.PartCount + _guesses.FindIndex(g => g.Value == field);

    public override Node? Overall(IEnumerable<int> parts) =>
        _answers.Overall(parts.Where(p => p < _answers.PartCount));

    public override Node? Behind(int part) =>
        part < _answers.PartCount ? null : _actual[part - _answers.PartCount];
}
