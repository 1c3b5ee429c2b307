using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Workbook;

/// <summary>
/// Columns that say what is wrong with a row. Which answers are missing is known only once the lines say which tasks
/// are given; and where an answer is wrong, nobody can say which tasks after it should be there.
/// </summary>
internal static class WorkbookErrors
{
    /// <summary>Adds them and gives the cell with all of them, empty where nothing is wrong or entered.</summary>
    public static string Add(
        Protocol protocol,
        ScoringCells cells,
        WorkbookLists lists,
        WorkbookReading reading,
        IReadOnlyList<string> lines
    )
    {
        const string Note = "what is wrong, if anything";
        var given = new GivenTasks(protocol.Program);
        var count = reading.Problems.Count;
        var wrong = Joined("wrong answers", reading.Answers.Select(a => Problem(Wrong(a, lists))));
        var missing = reading.Answers.Select(a => Problem(Missing(a, lists, given, wrong, lines))).ToList();
        var all = cells.Joined("errors", [.. reading.Problems, wrong, .. missing], g => string.Join('&', g));
        return cells.Add("errors", Note, $"IF({reading.Empty},\"\",{all})");

        string Problem(string formula) =>
            cells.Add(FormattableString.Invariant($"error {++count}"), Note, formula);

        string Joined(string name, IEnumerable<string> problems)
        {
            var parts = problems.ToList();
            var text = parts.Count == 0 ? "\"\"" : cells.Joined(name, parts, g => string.Join('&', g));
            return cells.Add(name, Note, text);
        }
    }

    private static string Wrong(AnswerCells read, WorkbookLists lists)
    {
        var answer = read.Slot;
        var wrong = lists.Word($"{answer.Key}: this is not {NumberReading.Expected(answer.Response)}. ");
        if (read.Off.Length > 0)
        {
            var misplaced = lists.Word(
                $"{answer.Key}: this task is not part of the short form; leave it out. "
            );
            wrong = $"IF({read.Off},{misplaced},{wrong})";
        }

        return $"IF({read.Given}=2,{wrong},\"\")";
    }

    private static string Missing(
        AnswerCells read,
        WorkbookLists lists,
        GivenTasks given,
        string wrong,
        IReadOnlyList<string> lines
    )
    {
        var due = new List<string> { $"{read.Given}=0" };
        if (read.Need.Length > 0)
        {
            due.Add($"{read.Need}=0");
        }

        if (read.Off.Length > 0)
        {
            due.Add($"NOT({read.Off})");
        }

        if (given.LineOf(read.Slot) is var line and >= 0)
        {
            due.AddRange([$"{wrong}=\"\"", lines[line]]);
        }

        var codes = string.Join(", ", States.Untried.Select(u => u.Code));
        var missing = lists.Word($"{read.Slot.Key}: there is no answer. Give one, or say why not: {codes}. ");
        return $"IF(AND({string.Join(',', due)}),{missing},\"\")";
    }
}
