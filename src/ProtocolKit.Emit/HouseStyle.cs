using System.Globalization;
using System.Text.RegularExpressions;

namespace ProtocolKit.Emit;

/// <summary>
/// A team's letterhead, and the ink its headings are printed in. Nothing is ever said by colour alone, and an ink too pale for a
/// black-and-white copier is refused.
/// </summary>
/// <param name="Lines">Address and the like, one a line.</param>
/// <param name="Call">Whom a family calls, in one line; empty where the letter's own text says it.</param>
/// <param name="Ink">As <c>#1f3a5f</c>.</param>
public sealed partial record HouseStyle(string Name, IReadOnlyList<string> Lines, string Call, string Ink)
{
    /// <summary>Contrast with white paper that stays readable after two copies; WCAG 2.2's stricter step (1.4.6), 7 to 1.</summary>
    public const double LeastContrast = 7;

    public const string Black = "#000000";

    /// <summary>Where red, green and blue begin in the written ink.</summary>
    private static readonly int[] Channels = [1, 3, 5];

    /// <summary>No letterhead, black ink.</summary>
    public static HouseStyle Plain { get; } = new("", [], "", Black);

    /// <summary>True for an ink written as <c>#rrggbb</c> that is dark enough.</summary>
    public static bool IsInk(string ink) => InkPattern().IsMatch(ink) && Contrast(ink) >= LeastContrast;

    /// <summary>True for six hexadecimal digits after a <c>#</c>.</summary>
    public static bool IsWritten(string ink) => InkPattern().IsMatch(ink);

    /// <summary>Contrast ratio with white, from 1 to 21, by the formula of WCAG 2.2 (relative luminance of sRGB).</summary>
    public static double Contrast(string ink)
    {
        ArgumentNullException.ThrowIfNull(ink);
        var channels = Channels
            .Select(i =>
                byte.Parse(ink.AsSpan(i, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0
            )
            .Select(c => c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4))
            .ToList();
        var luminance = (0.2126 * channels[0]) + (0.7152 * channels[1]) + (0.0722 * channels[2]);
        return 1.05 / (luminance + 0.05);
    }

    [GeneratedRegex("^#[0-9a-fA-F]{6}$", RegexOptions.CultureInvariant)]
    private static partial Regex InkPattern();
}
