using System.Globalization;

namespace ProtocolKit.Scoring;

/// <summary>Decides, before anything is read, whether something is a text that a record can be.</summary>
internal static class TextCheck
{
    /// <summary>Far above any real record; a larger file is something else.</summary>
    public const int MostCharacters = 1 << 20;

    /// <summary>True when the text may be read; otherwise the one problem is added.</summary>
    public static bool Passes(string text, ProblemList problems)
    {
        if (text.Length > MostCharacters)
        {
            problems.Add(
                problems.Start,
                "",
                "This file is larger than 1 MB, and a record never is.",
                "Give the record of one sitting."
            );
            return false;
        }

        if (string.IsNullOrWhiteSpace(text))
        {
            problems.Add(
                problems.Start,
                "",
                "The record is empty.",
                "Begin with a line such as: protocol: the protocol's name"
            );
            return false;
        }

        return HasOnlyText(text, problems);
    }

    /// <summary>A control character; line ends and the tab are none.</summary>
    public static bool IsControl(char c) => char.IsControl(c) && c is not ('\t' or '\n' or '\r');

    private static bool HasOnlyText(string text, ProblemList problems)
    {
        var line = 1;
        var start = 0;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (c == '\n')
            {
                line++;
                start = i + 1;
            }
            else if (IsControl(c) || c is '\uFFFD' or '\uFFFE' or '\uFFFF' || IsLoneSurrogate(text, i))
            {
                problems.Add(
                    problems.At(line, i - start + 1, 1),
                    "",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"This is no plain text: it holds a character (U+{(int)c:X4}) that no record can hold."
                    ),
                    "Give a YAML or JSON record, saved as UTF-8."
                );
                return false;
            }
        }

        return true;
    }

    private static bool IsLoneSurrogate(string text, int i)
    {
        if (char.IsHighSurrogate(text[i]))
        {
            return i + 1 >= text.Length || !char.IsLowSurrogate(text[i + 1]);
        }

        return char.IsLowSurrogate(text[i]) && (i == 0 || !char.IsHighSurrogate(text[i - 1]));
    }
}
