using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Workspace.Tests.Studies;

/// <summary>What people get wrong in a table of records, and the sentence each of them gets.</summary>
public sealed class BadDataTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("protocolkit-study-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Theory]
    [InlineData("child")]
    [InlineData("name")]
    [InlineData("Mother's phone")]
    public void A_column_for_a_name_refuses_the_table(string column)
    {
        var error = Assert.Throws<StudyDataException>(() => Read(AddColumn(column, "Invented Person")));
        Assert.Contains("looks like a name or an address", error.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("Invented Person", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_unknown_column_is_named_with_what_was_meant()
    {
        var error = Assert.Throws<StudyDataException>(() => Read(AddColumn("tip-nose.rat.trial-1", "2")));
        Assert.Contains("Perhaps you mean tip-nose.rate.trial-1", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_column_that_stands_twice_refuses_the_table()
    {
        var error = Assert.Throws<StudyDataException>(() => Read(AddColumn("case", "X-1")));
        Assert.Contains("two columns called \"case\"", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Text_in_a_number_column_leaves_the_row_out_and_says_which()
    {
        var data = Read(Change(3, "chin-drips.drips", "many"));
        var left = Assert.Single(data.LeftOut);
        Assert.Equal(3, left.Place.Line);
        Assert.Contains(
            "chin-drips.drips is \"many\", which is no number",
            left.Why,
            StringComparison.Ordinal
        );
        Assert.Equal(Rows().Count - 2, data.Sittings.Count);
    }

    [Fact]
    public void A_blank_answer_is_no_zero_and_leaves_the_row_out()
    {
        var data = Read(Change(3, "quiet-breaths.breaths", ""));
        Assert.Contains("quiet-breaths.breaths", Assert.Single(data.LeftOut).Why, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_sitting_twice_is_taken_not_once_but_not_at_all()
    {
        var rows = Rows();
        var data = Read([.. rows, rows[1]]);
        var left = Assert.Single(data.LeftOut);
        Assert.Contains("stands here more than once", left.Why, StringComparison.Ordinal);
        Assert.Contains("row 2 and", left.Why, StringComparison.Ordinal);
        Assert.Equal(rows.Count - 2, data.Sittings.Count);
    }

    [Fact]
    public void Mixed_editions_are_told_and_never_pooled_unasked()
    {
        var data = Read(Change(5, "edition", "0.9"));
        Assert.Contains(
            data.Remarks,
            r => r.Contains("mixes editions: 1 of edition 0.9", StringComparison.Ordinal)
        );
        Assert.Contains("edition", Assert.Single(data.LeftOut).Why, StringComparison.Ordinal);
    }

    [Fact]
    public void A_judgement_in_other_words_is_asked_about()
    {
        var data = Read(Change(2, "reference", "positive"));
        Assert.Contains("Write case or no-case", Assert.Single(data.LeftOut).Why, StringComparison.Ordinal);
    }

    [Fact]
    public void A_row_with_a_cell_too_many_is_pointed_at()
    {
        var rows = Rows();
        rows[2] += ",1";
        var error = Assert.Throws<StudyDataException>(() => Read(rows));
        Assert.Contains("row 3: it has", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("\n\n")]
    public void An_empty_file_says_so(string text)
    {
        var error = Assert.Throws<StudyDataException>(() => ReadText(text));
        Assert.Contains("empty", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_head_without_rows_says_so()
    {
        var error = Assert.Throws<StudyDataException>(() => Read([Rows()[0]]));
        Assert.Contains("no rows", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Rows_none_of_which_can_be_taken_say_why()
    {
        var rows = Rows();
        var error = Assert.Throws<StudyDataException>(() =>
            Read([rows[0], rows[1].Replace(",full,", ",half,", StringComparison.Ordinal)])
        );
        Assert.Contains("form is \"half\"", error.Message, StringComparison.Ordinal);
        Assert.Contains("nothing to study", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Record_files_of_a_folder_are_read_with_a_table_of_judgements()
    {
        var reference = Path.Combine(_folder.FullName, "reference.csv");
        File.WriteAllText(reference, "case,reference,reference-blind\nQC-0417,case,yes\n");
        var data = StudyReader.Read(Library.Quillmere, Library.PathOf("records"), reference);
        Assert.True(data.Sittings.Single(s => s.Case == "QC-0417").Reference.IsCase);
        Assert.All(data.Sittings.Where(s => s.Case != "QC-0417"), s => Assert.Null(s.Reference.IsCase));
    }

    private static List<string> Rows() => [.. File.ReadLines(Library.PilotPath).Take(40)];

    private static List<string> AddColumn(string column, string cell) =>
        [.. Rows().Select((row, i) => row + (i == 0 ? $",{column}" : $",{cell}"))];

    /// <summary>Changes one cell; the head is row 1.</summary>
    private static List<string> Change(int row, string column, string cell)
    {
        var rows = Rows();
        var cells = rows[row - 1].Split(',');
        cells[Array.IndexOf(rows[0].Split(','), column)] = cell;
        rows[row - 1] = string.Join(',', cells);
        return rows;
    }

    private Model.StudyData Read(IEnumerable<string> rows) => ReadText(string.Join('\n', rows) + "\n");

    private Model.StudyData ReadText(string text)
    {
        var path = Path.Combine(_folder.FullName, "data.csv");
        File.WriteAllText(path, text);
        return StudyReader.Read(Library.Quillmere, path);
    }
}
