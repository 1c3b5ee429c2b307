using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Collects problems and remarks while a record is read.</summary>
internal sealed class ProblemList(string file)
{
    /// <summary>Suggestions cost time; a text with thousands of unknown keys gets them for the first ones.</summary>
    private const int MostSuggestions = 200;

    private readonly List<RecordProblem> _problems = [];
    private readonly List<string> _remarks = [];
    private int _suggestions;

    public IReadOnlyList<string> Remarks => _remarks;

    public bool Any => _problems.Count > 0;

    /// <summary>The first character of the text.</summary>
    public Origin Start => new(file, 1, 1, 0);

    public Origin At(long line, long column, long length = 0) =>
        new(file, (int)line, (int)column, (int)length);

    public void Add(Origin origin, string key, string message, string mend) =>
        _problems.Add(new RecordProblem(origin, key, message, mend));

    public void Remark(string text) => _remarks.Add(text);

    public string? Suggest(string typed, IEnumerable<string> known) =>
        _suggestions++ < MostSuggestions ? Nearest.To(typed, known) : null;

    public IReadOnlyList<RecordProblem> InOrder() =>
        [.. _problems.OrderBy(p => p.Origin.Line).ThenBy(p => p.Origin.Column)];
}
