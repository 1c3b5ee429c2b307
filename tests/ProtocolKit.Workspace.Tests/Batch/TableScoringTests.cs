using System.Globalization;
using ProtocolKit.Emit.Code;
using ProtocolKit.Language;
using ProtocolKit.Language.Binding;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Workspace.Batch;

namespace ProtocolKit.Workspace.Tests.Batch;

/// <summary>A table scored in blocks of columns says what the evaluator says of each of its records, column by column.</summary>
public sealed class TableScoringTests : IDisposable
{
    private const string Routed = """
        protocol routed
          title   "Routed"
          edition 1.0
          ages    4;0 to 8;11
          short form 5 min
        scale three, higher is better
          2 "full"
          1 "part"
          0 "none"
        caution gloves "Clean hands."
          for contact mouth
        observation drift "drifts"
        family item(s)
          rate s
        section lips "Lips"
          order of difficulty "invented"
          start at seal from 6;0
          go back until 2 in a row full
          stop after 2 tasks in a row rated 0
          task kiss item(three) short form
          task press item(three)
            contact mouth
          task seal item(three) short form, each side right, left
          task puff item(three)
          task smile
            trials up to 2, second when rate below 2, keep highest rate
            rate three
            tick drift
        section tongue "Tongue"
          task tip item(three)
            skip when kiss = 0, left out
          task run
            count taps 0 to 60, spans intervals
            time run in s, step 0.1, 0.5 to 15
        score lips-total "Lips"
          add up rate of every task in lips
        score tip-points "Tip" = if smile.drift is seen then 0 otherwise tip
        measure pace in taps/s = run.taps / run.run
        cut-offs lips-total
          ages         low     high
          4;0 to 8;11  0 to 5  6 to 12
          basis provisional "x"
        actions
          more "More" when any band is low
          none "None" when no other action applies
        case-history
          ask sore "Is the mouth sore?", yes-no
            yes closes mouth contact unless agreed
          ask agreed "Does the dentist agree?", yes-no
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("protocolkit-batch-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Every_column_of_every_row_is_the_evaluator_s_on_the_example() =>
        AssertEqual(Library.Quillmere, 400);

    [Fact]
    public void Every_column_of_every_row_is_the_evaluator_s_where_tasks_are_routed() =>
        AssertEqual(RoutedProtocol(), 3000);

    [Fact]
    public void Rows_with_mistakes_are_listed_with_line_and_column_and_the_rest_is_scored()
    {
        var protocol = RoutedProtocol();
        var records = Sittings(protocol, 40);
        var rows = records.Select(r => RecordTable.CellsOf(protocol, r).ToDictionary()).ToList();
        rows[3]["kiss.rate"] = "7";
        rows[5]["case"] = "=cmd|' /C calc'!A0";
        var outcome = Score(protocol, rows);

        Assert.Equal((38, 2), (outcome.Scored, outcome.Refused));
        var results = File.ReadAllLines(ResultsPath);
        Assert.Equal(39, results.Length);
        var mistakes = File.ReadAllLines(ResultsPath + ".errors.csv");
        var column = Columns(rows).IndexOf("kiss.rate") + 1;
        Assert.Contains(mistakes, m => m.StartsWith($"5,{column},\"kiss.rate\",", StringComparison.Ordinal));
        Assert.Contains(mistakes, m => m.StartsWith("7,", StringComparison.Ordinal));
    }

    /// <summary>Such columns change no score, and what is wrong in them refuses the row all the same.</summary>
    [Fact]
    public void Help_and_seconds_may_stand_beside_answers()
    {
        var protocol = Library.Quillmere;
        var rows = Sittings(protocol, 20)
            .Select(r => RecordTable.CellsOf(protocol, r).ToDictionary())
            .ToList();
        Score(protocol, rows);
        var plain = File.ReadAllLines(ResultsPath);
        foreach (var row in rows)
        {
            (row["help.kiss"], row["task-seconds.kiss"]) = ("said again", "12");
        }

        Assert.Equal((20, 0), Counts(Score(protocol, rows)));
        Assert.Equal(plain, File.ReadAllLines(ResultsPath));
        rows[2]["help.kiss"] = "shouted";
        rows[3]["task-seconds.kiss"] = "7.5";
        rows[4]["seen"] = "2026-13-01";
        Assert.Equal((17, 3), Counts(Score(protocol, rows)));
        var mistakes = File.ReadAllLines(ResultsPath + ".errors.csv");
        Assert.Equal(["4", "5", "6"], mistakes.Skip(1).Select(m => m[..m.IndexOf(',')]));
        Assert.Contains("shouted", mistakes[1]);
        Assert.Contains("7.5", mistakes[2]);
        Assert.Contains(
            ",\"seen\",\"seen is \"\"2026-13-01\"\", which is no date of the calendar.\",",
            mistakes[3]
        );
    }

    private static (long, long) Counts(TableOutcome outcome) => (outcome.Scored, outcome.Refused);

    [Fact]
    public void A_run_that_is_stopped_leaves_no_file_and_earlier_results_as_they_were()
    {
        var protocol = RoutedProtocol();
        File.WriteAllText(ResultsPath, "earlier\n");
        var rows = Sittings(protocol, 40)
            .Select(r => RecordTable.CellsOf(protocol, r).ToDictionary())
            .ToList();
        using var stop = new CancellationTokenSource();
        stop.Cancel();

        Assert.ThrowsAny<OperationCanceledException>(() => Score(protocol, rows, stop.Token));
        Assert.Equal("earlier\n", File.ReadAllText(ResultsPath));
        Assert.Equal(
            ["results.csv", "table.csv"],
            Directory.GetFiles(_folder).Select(Path.GetFileName).Order()
        );
    }

    [Fact]
    public void A_table_in_Parquet_comes_to_the_results_of_the_same_table_in_CSV()
    {
        var protocol = RoutedProtocol();
        var rows = Sittings(protocol, 3000)
            .Select(r => RecordTable.CellsOf(protocol, r).ToDictionary())
            .ToList();
        rows[3]["kiss.rate"] = "7";
        Score(protocol, rows);
        var (table, results, back) = (
            InFolder("table.parquet"),
            InFolder("results.parquet"),
            InFolder("back.csv")
        );
        Sql($"copy (from read_csv('{InFolder("table.csv")}')) to '{table}' (format parquet)");
        File.WriteAllText(results + ".part", "left by a killed run");
        var outcome = TableScoring.Score(
            protocol,
            table,
            results,
            results + ".errors.csv",
            new RecordOptions(),
            null,
            default
        );
        Sql($"copy (from '{results}') to '{back}' (header, delim ',')");

        var mistakes = File.ReadAllLines(results + ".errors.csv");
        Assert.True(outcome is { Scored: 2999, Refused: 1 }, string.Join("\n", mistakes.Take(6)));
        Assert.StartsWith("4,", mistakes[1], StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(_folder, "*.part"));
        var expected = Cells(ResultsPath).ToList();
        Assert.Equal(3000, expected.Count);
        Assert.Equal(expected, Cells(back));
    }

    [Fact]
    public void What_is_no_Parquet_table_is_told_and_nothing_is_written()
    {
        File.WriteAllText(InFolder("table.parquet"), "case,age-months");

        var told = Assert.Throws<ProtocolKit.Workspace.Studies.StudyDataException>(() =>
            TableScoring.Score(
                RoutedProtocol(),
                InFolder("table.parquet"),
                ResultsPath,
                ResultsPath + ".errors.csv",
                new RecordOptions(),
                null,
                default
            )
        );
        Assert.StartsWith("table.parquet: this is no Parquet table", told.Message, StringComparison.Ordinal);
        Assert.Equal(["table.parquet"], Directory.GetFiles(_folder).Select(Path.GetFileName));
    }

    private string InFolder(string name) => Path.Combine(_folder, name);

    /// <summary>Numbers without the zeros a decimal of fixed digits ends in.</summary>
    private static IEnumerable<string> Cells(string path) =>
        File.ReadLines(path)
            .Select(l =>
                string.Join(
                    '|',
                    l.Split(',')
                        .Select(c => c.Trim('"'))
                        .Select(c =>
                            decimal.TryParse(c, CultureInfo.InvariantCulture, out var n)
                                ? n.ToString("0.########", CultureInfo.InvariantCulture)
                                : c
                        )
                )
            );

    private static void Sql(string sql)
    {
        using var connection = new DuckDB.NET.Data.DuckDBConnection("DataSource=:memory:");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    private string ResultsPath => Path.Combine(_folder, "results.csv");

    private void AssertEqual(Protocol protocol, int count)
    {
        var records = Sittings(protocol, count);
        var outcome = Score(
            protocol,
            [.. records.Select(r => RecordTable.CellsOf(protocol, r).ToDictionary())]
        );
        Assert.True(outcome.Refused == 0, File.ReadAllText(ResultsPath + ".errors.csv"));
        var columns = ResultColumns.Of(protocol);
        var lines = File.ReadAllLines(ResultsPath);
        Assert.Equal(string.Join(',', columns.Select(c => c.Name)), lines[0]);
        Assert.Equal(records.Count + 1, lines.Length);
        for (var i = 0; i < records.Count; i++)
        {
            var scored = Scorer.Score(protocol, records[i]);
            Assert.Equal(
                columns.Zip(columns.Select(c => Expected(c, scored))),
                columns.Zip(Merged(columns, lines[i + 1].Split(',')))
            );
        }
    }

    /// <summary>A cell of the results, from the reference's own result.</summary>
    private static string Expected(ResultColumn column, ScoredRecord scored)
    {
        var outcome = scored.Outcomes.FirstOrDefault(o => o.Outcome.Name == column.Subject);
        var isKnown = outcome?.State == State.Known;
        return column.Part switch
        {
            ResultPart.Case => scored.Record.Case,
            ResultPart.AgeMonths => $"{scored.Record.Age.Months}",
            ResultPart.Form => scored.Record.IsShortForm ? "short" : "full",
            ResultPart.State => outcome!.State.ToWords(),
            ResultPart.Low => isKnown ? $"{outcome!.Low}" : "",
            ResultPart.High => isKnown ? $"{outcome!.High}" : "",
            ResultPart.Band => scored
                .Bands.Where(b =>
                    b.Table.Outcome.Name == column.Subject && b.Table.ShortForm == scored.Record.IsShortForm
                )
                .Select(Band)
                .SingleOrDefault(""),
            ResultPart.Action => scored.Actions.Single(a => a.Action.Name == column.Subject).Decision switch
            {
                Decision.Applies => "applies",
                Decision.Undecided => "undecided",
                _ => "applies not",
            },
            ResultPart.Headline => scored.Headline?.Name ?? "",
            ResultPart.Reasons => string.Concat(
                scored.Outcomes.SelectMany(o =>
                    o.Untried.Select(u => $"{o.Outcome.Name}: {u.Key} {u.State.ToWords()}; ")
                )
            ),
            _ => "",
        };
    }

    /// <summary>A fraction's two cells as the number in the first.</summary>
    private static IEnumerable<string> Merged(IReadOnlyList<ResultColumn> columns, string[] cells)
    {
        for (var i = 0; i < cells.Length; i++)
        {
            var isOver = columns[i].Part is ResultPart.LowOver or ResultPart.HighOver;
            var hasOver =
                i + 1 < cells.Length && columns[i + 1].Part is (ResultPart.LowOver or ResultPart.HighOver);
            yield return isOver ? ""
            : hasOver && cells[i].Length > 0
                ? new Rational(
                    long.Parse(cells[i], CultureInfo.InvariantCulture),
                    long.Parse(cells[i + 1], CultureInfo.InvariantCulture)
                ).ToString()
            : cells[i];
        }
    }

    private static string Band(BandResult band) =>
        band.State switch
        {
            BandState.Known => band.Band!.Name,
            BandState.Undecided => "undecided",
            BandState.NotApplicable => "not applicable",
            BandState.Blocked => "blocked",
            _ => "no band",
        };

    private TableOutcome Score(
        Protocol protocol,
        IReadOnlyList<Dictionary<string, string>> rows,
        CancellationToken cancellation = default
    )
    {
        var columns = Columns(rows);
        var table = Path.Combine(_folder, "table.csv");
        File.WriteAllLines(
            table,
            rows.Select(r => string.Join(',', columns.Select(c => r.GetValueOrDefault(c, ""))))
                .Prepend(string.Join(',', columns))
        );
        return TableScoring.Score(
            protocol,
            table,
            ResultsPath,
            ResultsPath + ".errors.csv",
            new RecordOptions(),
            null,
            cancellation
        );
    }

    private static List<string> Columns(IReadOnlyList<Dictionary<string, string>> rows) =>
        [.. rows.SelectMany(r => r.Keys).Distinct()];

    private static IReadOnlyList<SittingRecord> Sittings(Protocol protocol, int count) =>
        [
            .. ProtocolKit
                .Testing.Records.Random(protocol, count, seed: 5)
                .Select(
                    (fields, i) =>
                        new SittingRecord
                        {
                            Case = $"C-{i}",
                            Age = new Age((int)fields[protocol.Program.AgeField]),
                            Seen = [new DateOnly(2026, 3, 4)],
                            IsShortForm = fields[protocol.Program.FormField] == 1,
                            Fields = fields,
                        }
                ),
        ];

    private static Protocol RoutedProtocol() =>
        Compilation.Of(new SourceText("routed.protocol", Routed), new NoModules()).Protocol!;
}
