using System.Globalization;
using System.Text;
using ProtocolKit.Emit.Code;
using ProtocolKit.Model;
using ProtocolKit.Testing;

namespace ProtocolKit.Benchmarks.Batch;

/// <summary>
/// Records of a protocol, drawn at random, as columns of fields and as rows of text. So many are drawn; a longer table goes
/// through them again and again, each row with a case of its own.
/// </summary>
internal sealed class BatchData
{
    private const int Drawn = 20_000;

    private readonly Protocol _protocol;
    private readonly long[][] _records;
    private readonly string[] _texts;

    public BatchData(Protocol protocol)
    {
        _protocol = protocol;
        Columns = ["protocol", "edition", "seen", .. ResultColumns.OfRecords(protocol)];
        _records = [.. Records.Random(protocol, Drawn, seed: 2026)];
        _texts = [.. _records.AsParallel().AsOrdered().Select(Text)];
    }

    /// <summary>The names of the table's columns, the case fourth.</summary>
    public IReadOnlyList<string> Columns { get; }

    /// <summary>The cells of a row.</summary>
    public string[] Row(int row)
    {
        string[] cells = [.. Columns.Take(3).Select(Start), Case(row), .. _texts[row % Drawn].Split(',')];
        return cells;
    }

    /// <summary>A column for each field of the program.</summary>
    public long[][] Fields(int rows)
    {
        var columns = _protocol.Program.Fields.Select(_ => new long[rows]).ToArray();
        for (var row = 0; row < rows; row++)
        {
            var record = _records[row % Drawn];
            for (var f = 0; f < columns.Length; f++)
            {
                columns[f][row] = record[f];
            }
        }

        return columns;
    }

    /// <summary>Writes a table as CSV.</summary>
    public void Write(string path, int rows)
    {
        using var writer = new StreamWriter(path, append: false, new UTF8Encoding(false), 1 << 20);
        writer.Write(string.Join(',', Columns) + "\n");
        var start = string.Join(',', Columns.Take(3).Select(Start)) + ",";
        for (var row = 0; row < rows; row++)
        {
            writer.Write(start);
            writer.Write(Case(row));
            writer.Write(',');
            writer.Write(_texts[row % Drawn]);
            writer.Write('\n');
        }
    }

    private static string Case(int row) => string.Create(CultureInfo.InvariantCulture, $"QC-{row:D8}");

    private string Start(string column) =>
        column switch
        {
            "protocol" => _protocol.Name,
            "edition" => _protocol.Edition,
            _ => "2026-03-04",
        };

    /// <summary>The cells behind the case.</summary>
    private string Text(long[] fields)
    {
        var plain = PlainRecord.From(_protocol, fields);
        var cells = plain
            .Answers.Select(a => (a.Key, a.Text))
            .Concat(plain.Observations.Select(o => ($"{RecordKeys.Observations}.{o.Key}", o.Text)))
            .Concat(plain.History.Select(h => ($"{RecordKeys.History}.{h.Key}", h.Text)))
            .Append((RecordKeys.AgeMonths, plain.AgeMonths.ToString(CultureInfo.InvariantCulture)))
            .Append((RecordKeys.Form, plain.IsShortForm ? RecordKeys.Short : RecordKeys.Full))
            .ToDictionary(StringComparer.Ordinal);
        return string.Join(',', Columns.Skip(4).Select(c => cells.GetValueOrDefault(c, "")));
    }
}
