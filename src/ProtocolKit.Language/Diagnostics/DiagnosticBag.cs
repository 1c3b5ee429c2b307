namespace ProtocolKit.Language.Diagnostics;

/// <summary>Collects what is found. Beyond a bound it only counts: a binary file must not print a million lines.</summary>
internal sealed class DiagnosticBag
{
    private const int Most = 200;
    private const int MostCandidates = 5000;
    private const int LongestText = 500;
    private readonly List<Diagnostic> _found = [];
    private readonly HashSet<(string, Place, string)> _seen = [];
    private readonly HashSet<(string, int)> _lexical = [];
    private readonly HashSet<(string, int)> _lines = [];

    /// <summary>How many more there were than are kept.</summary>
    public int Omitted { get; private set; }

    public bool HasErrors { get; private set; }

    /// <summary>True where no more is kept, so that nobody need look for the best words any more.</summary>
    public bool IsFull => _found.Count >= Most;

    /// <summary>True where something was already found wrong in this line.</summary>
    public bool HasErrorOn(SourceText source, int line) => _lines.Contains((source.Name, line));

    /// <summary>The nearest of the candidates to a word, for a message that will be kept.</summary>
    public string? Nearest(string word, IEnumerable<string> candidates) =>
        IsFull ? null : Suggest.Nearest(word, candidates.Take(MostCandidates));

    /// <summary>True where the characters of this line were already found wanting.</summary>
    public bool HasLexicalError(SourceText source, int line) => _lexical.Contains((source.Name, line));

    public void Report(SourceText source, Place place, Message message, params Related[] related)
    {
        if (message.Descriptor.Stage == Stage.Text)
        {
            _lexical.Add((source.Name, place.Line));
        }

        if (message.Descriptor.Severity == Severity.Error)
        {
            HasErrors = true;
            _lines.Add((source.Name, place.Line));
        }

        if (_found.Count >= Most)
        {
            Omitted++;
            return;
        }

        // A family's line is bound once for every task that uses it; its mistake is one mistake.
        // So is a name that stands twice in a line and means nothing.
        var where = message.Descriptor.Stage == Stage.Name ? new Place(place.Line, 0, 0) : place;
        if (_seen.Add((source.Name, where, message.Descriptor.Code + message.Text)))
        {
            _found.Add(new Diagnostic(source, place, Bounded(message), related));
        }
    }

    /// <summary>Two places that can't both stand: told at the second, shown with the first.</summary>
    public void Clash(
        (SourceText Source, Place Place) second,
        (SourceText Source, Place Place) first,
        Message message
    ) =>
        Report(
            second.Source,
            second.Place,
            message,
            new Related(first.Source, first.Place, "The first one is here.")
        );

    /// <summary>A message may hold a word of the text, and a word may be as long as the file.</summary>
    private static Message Bounded(Message message) =>
        message.Text.Length <= LongestText && (message.Fix?.Length ?? 0) <= LongestText
            ? message
            : message with
            {
                Text = Bounded(message.Text),
                Fix = message.Fix is { } fix ? Bounded(fix) : null,
            };

    private static string Bounded(string text) =>
        text.Length <= LongestText ? text : text[..LongestText] + "…";

    /// <summary>As they were found; grows.</summary>
    public IReadOnlyList<Diagnostic> Found => _found;

    /// <summary>Empty again, for whoever kept what was found.</summary>
    public void StartOver()
    {
        _found.Clear();
        _seen.Clear();
        _lexical.Clear();
        _lines.Clear();
        (Omitted, HasErrors) = (0, false);
    }

    /// <summary>By file as first met, then by place.</summary>
    public IReadOnlyList<Diagnostic> Sorted() => Sort(_found);

    /// <summary>The same order for findings of several bags.</summary>
    public static IReadOnlyList<Diagnostic> Sort(IReadOnlyCollection<Diagnostic> found)
    {
        var order = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var diagnostic in found)
        {
            order.TryAdd(diagnostic.Source.Name, order.Count);
        }

        return
        [
            .. found
                .OrderBy(d => order[d.Source.Name])
                .ThenBy(d => d.Place.Line)
                .ThenBy(d => d.Place.Column)
                .ThenBy(d => d.Code, StringComparer.Ordinal),
        ];
    }
}
