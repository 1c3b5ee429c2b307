using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Batch;

/// <summary>
/// What the texts of one answer's column mean. A text met before costs one look-up; what a text means is asked of the
/// reader of records.
/// </summary>
internal sealed class AnswerCells
{
    /// <summary>No more texts are kept than this: a column of ever new texts is a column of mistakes.</summary>
    private const int MostKept = 20_000;

    private readonly Response _response;
    private readonly Dictionary<string, (State State, long Value)?> _known = new(StringComparer.Ordinal);
    private readonly Dictionary<string, (State State, long Value)?>.AlternateLookup<
        ReadOnlySpan<char>
    > _spans;

    public AnswerCells(Response response)
    {
        _response = response;
        _spans = _known.GetAlternateLookup<ReadOnlySpan<char>>();
    }

    /// <summary>Nothing where the text is no such answer, or one to look at again.</summary>
    public (State State, long Value)? Read(ReadOnlySpan<char> text)
    {
        if (_spans.TryGetValue(text, out var found))
        {
            return found;
        }

        var read = AnswerValue.Read(_response, text.ToString());
        found = read.IsWrong ? null : (read.State, read.Steps);
        if (_known.Count < MostKept)
        {
            _spans[text] = found;
        }

        return found;
    }
}
