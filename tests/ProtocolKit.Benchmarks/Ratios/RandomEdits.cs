using System.Globalization;
using ProtocolKit.Benchmarks.Generated;
using ProtocolKit.Language;

namespace ProtocolKit.Benchmarks.Ratios;

/// <summary>
/// One-character edits at places drawn evenly from a large protocol: a mark put in, taken out or turned into another. How many of
/// them are compiled in a tenth of the whole's time; those that are not are listed.
/// </summary>
internal static class RandomEdits
{
    private const string Marks = "abcdefghijklmnopqrstuvwxyz0123456789 \"'(),.:;-+*/=<>#{}[]\n\tX";

    public static void Print(TextWriter output, int edits, int seed)
    {
        var text = LargeProtocol.Write(CompileRatio.Tasks).Protocol;
        var whole = new SourceText("large.protocol", text);
        var random = new Random(seed);
        var cache = new CompilationCache(new NoModules());
        for (var i = 0; i < 10; i++)
        {
            cache.Compile(new SourceText(whole.Name, Edited(text, new Random(i)).Text));
            CompileRatio.Compile(whole);
        }

        List<double> ratios = [];
        for (var i = 0; i < edits; i++)
        {
            var (what, at, changed) = Edited(text, random);
            var edited = new SourceText(whole.Name, changed);
            var (ours, all, ratio) = Median.InTurn(
                () => cache.Compile(edited),
                () => CompileRatio.Compile(edited),
                runs: 3,
                warmUps: 0,
                before: () => cache.Compile(whole)
            );
            ratios.Add(ratio);
            if (!Told(cache.Compile(edited)).SequenceEqual(Told(CompileRatio.Compile(edited))))
            {
                throw new InvalidOperationException(
                    $"{what} in «{LineAt(text, at)}» comes to another thing."
                );
            }

            if (ratio > EditRatio.Target)
            {
                output.WriteLine(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"  {ratio:F2} ({ours:F1} of {all:F1} ms): {what} in «{LineAt(text, at)}»"
                    )
                );
            }
        }

        ratios.Sort();
        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"  {edits} edits drawn with seed {seed}: {ratios.Count(r => r <= EditRatio.Target)} within {EditRatio.Target:F1}; median {ratios[edits / 2]:F3}, nine of ten at most {ratios[edits * 9 / 10]:F3}"
            )
        );
    }

    private static IEnumerable<string> Told(Compilation compilation) =>
        compilation
            .Diagnostics.Select(d => $"{d.Place} {d.Code} {d.Message.Text}")
            .Append($"{compilation.Omitted}");

    private static (string What, int At, string Text) Edited(string text, Random random)
    {
        var (at, mark) = (random.Next(text.Length), Marks[random.Next(Marks.Length)].ToString());
        var shown = mark == "\n" ? "a line's end" : mark;
        return random.Next(3) switch
        {
            0 => ($"{shown} put in before {text[at]}", at, text.Insert(at, mark)),
            1 => ($"{text[at]} taken out", at, text.Remove(at, 1)),
            _ => ($"{text[at]} turned into {shown}", at, text.Remove(at, 1).Insert(at, mark)),
        };
    }

    private static string LineAt(string text, int at)
    {
        var from = at == 0 ? 0 : text.LastIndexOf('\n', at - 1) + 1;
        var to = text.IndexOf('\n', at);
        return text[from..(to < 0 ? text.Length : to)].Trim();
    }
}
