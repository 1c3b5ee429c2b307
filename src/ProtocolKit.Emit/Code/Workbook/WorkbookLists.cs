using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Workbook;

/// <summary>
/// Every text the formulas say stands in a cell of its own on the sheet of lists and is read from there: no text of
/// a protocol ever stands in a formula. What may be chosen in an answer is a list of such cells, one below another.
/// </summary>
internal sealed class WorkbookLists
{
    public const string Sheet = "Lists";

    private readonly List<WorkbookList> _lists = [];
    private readonly Dictionary<string, int> _known = new(StringComparer.Ordinal);
    private readonly List<object> _words = [];
    private readonly Dictionary<string, string> _wordCells = new(StringComparer.Ordinal);

    public WorkbookLists() => _lists.Add(new WorkbookList("words", _words));

    public IReadOnlyList<WorkbookList> All => _lists;

    /// <summary>The cell that holds a text, such as <c>Lists!$A$7</c>.</summary>
    public string Word(string text)
    {
        if (!_wordCells.TryGetValue(text, out var cell))
        {
            _words.Add(text);
            cell = string.Create(CultureInfo.InvariantCulture, $"{Sheet}!$A${_words.Count + 1}");
            _wordCells.Add(text, cell);
        }

        return cell;
    }

    /// <summary>The cells that hold what may be chosen, such as <c>Lists!$C$2:$C$9</c>.</summary>
    /// <param name="items">Texts and whole or decimal numbers.</param>
    public string Range(string title, IReadOnlyList<object> items)
    {
        var key = string.Join('\u0001', items.Select(i => $"{i.GetType().Name}{i}"));
        if (!_known.TryGetValue(key, out var index))
        {
            index = _lists.Count;
            _known.Add(key, index);
            _lists.Add(new WorkbookList(title, items));
        }

        var column = CellNames.Column(index);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Sheet}!${column}$2:${column}${items.Count + 1}"
        );
    }

    /// <summary>One of several texts by a number from 0 on.</summary>
    public string Chosen(string number, IEnumerable<string> words) =>
        $"CHOOSE({number}+1,{string.Join(',', words.Select(Word))})";

    public string StateWord(string state) => Chosen(state, Enum.GetValues<State>().Select(s => s.ToWords()));
}

/// <param name="Items">Strings and numbers, the first in row 2.</param>
internal sealed record WorkbookList(string Title, IReadOnlyList<object> Items);

internal static class CellNames
{
    /// <summary>The letters of a column, counted from 0: A, B … Z, AA.</summary>
    public static string Column(int index)
    {
        var name = "";
        for (var i = index + 1; i > 0; i = (i - 1) / 26)
        {
            name = (char)('A' + ((i - 1) % 26)) + name;
        }

        return name;
    }

    /// <summary>The column of a cell such as <c>AB3</c>, counted from 0.</summary>
    public static int Place(string cell) =>
        cell.TakeWhile(char.IsAsciiLetterUpper).Aggregate(0, (place, c) => (place * 26) + (c - 'A' + 1)) - 1;
}
