using System.Diagnostics;
using System.Globalization;
using System.Xml.Linq;
using ProtocolKit.Workspace.Printing;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>A test that prints and measures the PDF with poppler's programs. Where either is missing it is not run, never passed.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class MeasuredFactAttribute : FactAttribute
{
    public MeasuredFactAttribute()
    {
        if (BrowserFinder.Find() is null || Poppler.Missing is not null)
        {
            Skip =
                $"NOT RUN: {Poppler.Missing ?? "a browser of the Chromium family"} is missing, so nothing could be measured.";
        }
    }
}

/// <summary>A word and where it stands: millimetres from the upper left corner of its page, counted from 1.</summary>
internal sealed record PlacedWord(
    int Page,
    string Text,
    double Left,
    double Top,
    double Right,
    double Bottom
);

/// <summary>Another PDF reader's view of a page: words with their places, fonts, and the page as grey dots.</summary>
internal static class Poppler
{
    private static readonly string[] Programs = ["pdftotext", "pdffonts", "pdftoppm"];

    public static string? Missing { get; } =
        Programs.FirstOrDefault(p =>
            !(Environment.GetEnvironmentVariable("PATH") ?? "")
                .Split(Path.PathSeparator)
                .Any(f => File.Exists(Path.Combine(f, p)))
        );

    public static (int Pages, IReadOnlyList<PlacedWord> Words) Words(string pdf)
    {
        var xml = XDocument.Parse(
            Text("pdftotext", "-bbox", pdf, "-").Replace("\0", "", StringComparison.Ordinal)
        );
        XNamespace html = "http://www.w3.org/1999/xhtml";
        var pages = xml.Descendants(html + "page").ToList();
        return (
            pages.Count,
            pages
                .SelectMany(
                    (page, i) =>
                        page.Elements(html + "word")
                            .Select(w => new PlacedWord(
                                i + 1,
                                w.Value,
                                Millimetres(w, "xMin"),
                                Millimetres(w, "yMin"),
                                Millimetres(w, "xMax"),
                                Millimetres(w, "yMax")
                            ))
                )
                .ToList()
        );
    }

    /// <summary>Each font's name and whether it travels inside the file.</summary>
    public static IReadOnlyList<(string Name, bool Embedded)> Fonts(string pdf) =>
        Text("pdffonts", pdf)
            .Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Skip(2)
            .Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            .Select(c => (c[0], c[^5] == "yes"))
            .ToList();

    /// <summary>A page as grey dots, 0 is black.</summary>
    public static GreyPage Render(string pdf, int page, int dotsPerInch)
    {
        var number = page.ToString(CultureInfo.InvariantCulture);
        return GreyPage.Of(
            Bytes(
                "pdftoppm",
                "-gray",
                "-r",
                dotsPerInch.ToString(CultureInfo.InvariantCulture),
                "-f",
                number,
                "-l",
                number,
                pdf
            ),
            dotsPerInch
        );
    }

    private static double Millimetres(XElement word, string name) =>
        double.Parse(word.Attribute(name)!.Value, CultureInfo.InvariantCulture)
        * PrintedPages.MillimetresPerPoint;

    private static string Text(string program, params string[] arguments) =>
        System.Text.Encoding.UTF8.GetString(Bytes(program, arguments));

    private static byte[] Bytes(string program, params string[] arguments)
    {
        using var process = Process.Start(
            new ProcessStartInfo(program, arguments)
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            }
        )!;
        var errors = process.StandardError.ReadToEndAsync();
        using var output = new MemoryStream();
        process.StandardOutput.BaseStream.CopyTo(output);
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"{program}: {errors.Result}");
        return output.ToArray();
    }
}

/// <summary>A rendered page; dots are counted from the upper left.</summary>
internal sealed record GreyPage(int Width, int Height, byte[] Dots, int DotsPerInch)
{
    /// <summary>From a binary PGM picture.</summary>
    public static GreyPage Of(byte[] pgm, int dotsPerInch)
    {
        var at = 0;
        string Next()
        {
            while (char.IsWhiteSpace((char)pgm[at]))
            {
                at++;
            }

            var from = at;
            while (!char.IsWhiteSpace((char)pgm[at]))
            {
                at++;
            }

            return System.Text.Encoding.ASCII.GetString(pgm, from, at - from);
        }

        Assert.Equal("P5", Next());
        var width = int.Parse(Next(), CultureInfo.InvariantCulture);
        var height = int.Parse(Next(), CultureInfo.InvariantCulture);
        Assert.Equal("255", Next());
        return new(width, height, pgm[(at + 1)..], dotsPerInch);
    }

    public int Dot(double millimetres) => (int)Math.Round(millimetres / 25.4 * DotsPerInch);

    public bool IsDark(int x, int y) => Dots[(y * Width) + x] < 128;

    /// <summary>Dark dots in a rectangle given in millimetres.</summary>
    public int Dark(double left, double top, double right, double bottom)
    {
        var count = 0;
        for (var y = Math.Max(0, Dot(top)); y < Math.Min(Height, Dot(bottom)); y++)
        {
            for (var x = Math.Max(0, Dot(left)); x < Math.Min(Width, Dot(right)); x++)
            {
                count += IsDark(x, y) ? 1 : 0;
            }
        }

        return count;
    }

    /// <summary>What a black-and-white copier makes of it: each dot the mean of itself and its eight neighbours, then black or white.</summary>
    public GreyPage Copied()
    {
        var copy = new byte[Dots.Length];
        Array.Fill(copy, (byte)255);
        for (var y = 1; y < Height - 1; y++)
        {
            for (var x = 1; x < Width - 1; x++)
            {
                var sum = 0;
                for (var row = -1; row <= 1; row++)
                {
                    var at = ((y + row) * Width) + x;
                    sum += Dots[at - 1] + Dots[at] + Dots[at + 1];
                }

                copy[(y * Width) + x] = sum < 9 * 128 ? (byte)0 : (byte)255;
            }
        }

        return this with
        {
            Dots = copy,
        };
    }
}
