using System.Globalization;
using System.Text.RegularExpressions;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>Parts of the model in the words that stand on paper. Sheet, cards and manual share them.</summary>
public static partial class Words
{
    public static string Of(Contact contact) =>
        contact switch
        {
            Contact.Face => "touches the face",
            Contact.Mouth => "touches the mouth",
            _ => "no touch",
        };

    /// <summary>The child's own side, said so that nobody mirrors it.</summary>
    public static string Of(ProtocolTask task, Variant variant) =>
        task.VariantKind switch
        {
            VariantKind.None => "",
            VariantKind.Side when IsSide(variant, "right") => "Child’s right",
            VariantKind.Side when IsSide(variant, "left") => "Child’s left",
            _ => variant.Text.Length > 0 ? variant.Text : Names.ToTitle(variant.Name),
        };

    public static bool IsSide(Variant variant, string side) =>
        string.Equals(variant.Name, side, StringComparison.Ordinal);

    /// <summary>How often the task is tried and what counts; empty for a single trial.</summary>
    public static string OfTrials(ProtocolTask task)
    {
        var plan = task.Trials;
        if (plan.Count <= 1)
        {
            return "";
        }

        return OftenTried(task) + Counts(task);
    }

    /// <summary>Which side, place, sound or word comes first; empty when there is one alone.</summary>
    public static string OfOrder(ProtocolTask task) =>
        task.IsSided && task.Variants.Count == 2 ? $"{Of(task, task.Variants[0])} first."
        : OfVariants(task) is { Length: > 0 } order ? $"In this order: {order}"
        : "";

    /// <summary><c>child’s right, then child’s left.</c>; empty when there is one alone.</summary>
    public static string OfVariants(ProtocolTask task) =>
        task.Variants.Count < 2
            ? ""
            : string.Join(
                ", then ",
                task.Variants.Select(v => task.IsSided ? Lower(Of(task, v)) : Of(task, v))
            ) + ".";

    /// <summary>What is counted or measured, its span, and the bounds that can be written.</summary>
    public static string OfNumber(Response response)
    {
        var name = Names.ToWords(response.Name);
        var unit = response.Unit.ToString();
        var label = response.Kind == ResponseKind.Count || unit is "1" ? name : $"{name} in {unit}";
        if (response.Kind == ResponseKind.Count && unit != "1" && unit != response.Name)
        {
            label += $" ({unit})";
        }

        return label + SpanWords(response);
    }

    public static string Bounds(Response response) => $"{response.Low} to {response.High}";

    /// <summary>With a capital at its start.</summary>
    public static string Sentence(string text) =>
        text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>A fingerprint in groups of four, easier to compare by eye.</summary>
    public static string Grouped(string fingerprint) =>
        string.Join(' ', fingerprint.Chunk(4).Select(group => new string(group)));

    public static string Minutes(MinuteRange? range) =>
        range is null ? ""
        : range.From == range.To ? string.Create(CultureInfo.InvariantCulture, $"{range.From} min")
        : string.Create(CultureInfo.InvariantCulture, $"{range.From} to {range.To} min");

    private static string SpanWords(Response response) =>
        response.Spans switch
        {
            Spans.Intervals => ", counting the intervals",
            Spans.Onsets => ", counting the onsets",
            _ => "",
        };

    private static string OftenTried(ProtocolTask task)
    {
        var plan = task.Trials;
        if (plan.FurtherWhen is not { } further)
        {
            return string.Create(CultureInfo.InvariantCulture, $"{plan.Count} trials.");
        }

        var response = task.Responses.FirstOrDefault(r => r.Name == further.Response);
        var alone = task.Responses.Count(r => r.Kind == ResponseKind.Rating) == 1;
        var below =
            response?.Kind == ResponseKind.Rating && alone ? "is" : $"has {Names.ToWords(further.Response)}";
        return plan.Count == 2
            ? $"Second trial only when the first {below} below {further.Below}."
            : $"Up to {plan.Count} trials: another only while the one before {below} below {further.Below}.";
    }

    private static string Counts(ProtocolTask task)
    {
        var by = Names.ToWords(task.Trials.By ?? "answer");
        var rating =
            task.Responses.FirstOrDefault(r => r.Name == task.Trials.By)?.Kind == ResponseKind.Rating;
        return task.Trials.Keep switch
        {
            Keep.Highest when rating => " The better one counts.",
            Keep.Highest => $" The whole trial with the highest {by} counts.",
            Keep.Lowest => $" The whole trial with the lowest {by} counts.",
            Keep.First => " The first one counts.",
            Keep.Last => " The last one counts.",
            Keep.Mean or Keep.Median or Keep.Sum => Together(task.Trials),
            _ => "",
        };
    }

    private static string Together(TrialPlan plan)
    {
        var word = plan.Keep.ToString().ToLowerInvariant();
        var of = plan.OfThoseGiven ? "of the trials given" : "of all trials";
        var step = plan.Step is { } s ? $", rounded to {s}" : "";
        return $" The {word} {of} counts{step}.";
    }

    private static string Lower(string text) =>
        text.Length == 0 ? text : char.ToLowerInvariant(text[0]) + text[1..];
}
