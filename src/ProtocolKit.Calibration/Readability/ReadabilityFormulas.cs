namespace ProtocolKit.Calibration.Readability;

/// <summary>
/// Reading ease from counts. Flesch R (1948) J Appl Psychol 32:221-233; Kincaid JP and others (1975) Navy Research Branch
/// Report 8-75: both calibrated for English only. LIX: Björnsson CH (1968) Läsbarhet, for other languages too.
/// </summary>
public static class ReadabilityFormulas
{
    public static double FleschReadingEase(double words, double sentences, double syllables) =>
        206.835 - (1.015 * Ratio(words, sentences)) - (84.6 * Ratio(syllables, words));

    public static double FleschKincaidGrade(double words, double sentences, double syllables) =>
        (0.39 * Ratio(words, sentences)) + (11.8 * Ratio(syllables, words)) - 15.59;

    /// <summary>Reading ease for German texts: Amstad T (1978) Wie verständlich sind unsere Zeitungen?, Zürich (formula from memory).</summary>
    public static double FleschGerman(double words, double sentences, double syllables) =>
        180 - Ratio(words, sentences) - (58.5 * Ratio(syllables, words));

    /// <summary>Words a sentence plus percent of words with more than six letters.</summary>
    public static double Lix(double words, double sentences, double longWords) =>
        Ratio(words, sentences) + (100 * Ratio(longWords, words));

    /// <summary>Flesch's bands of reading ease, from (included) to.</summary>
    public static readonly IReadOnlyList<(int From, int To, string Label)> Bands =
    [
        (90, 100, "very easy"),
        (80, 90, "easy"),
        (70, 80, "fairly easy"),
        (60, 70, "standard"),
        (50, 60, "fairly difficult"),
        (30, 50, "difficult"),
        (0, 30, "very difficult"),
    ];

    private static double Ratio(double top, double bottom)
    {
        Require.That(bottom > 0 && top >= 0, "Readability needs at least one word and one sentence.");
        return top / bottom;
    }
}
