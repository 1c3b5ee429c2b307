using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

/// <summary>Filling letters and notes: values, what stands in for a missing one, and who may read a paragraph.</summary>
public sealed class ReportTextsTests
{
    private static readonly ReportText Letter = new(
        ReportKind.Letter,
        "caregiver",
        Audience.Caregiver,
        [],
        Origin.None
    )
    {
        Parts =
        [
            Of(Audience.Caregiver, Plain("Dear "), Hole("child", "family"), Plain(",")),
            Of(Audience.Caregiver, Hole("remarks", null)),
            Of(Audience.Team, Plain("For the team: "), Hole("case", "no case")),
            Of(Audience.TeamOnly, Plain("For us alone.")),
        ],
    };

    private static ReportParagraph Of(Audience audience, params TextPart[] parts) => new(audience, parts);

    private static TextPart Plain(string text) => new(false, text, null);

    private static TextPart Hole(string name, string? otherwise) => new(true, name, otherwise);

    private static Dictionary<string, string> Values(params (string Name, string Value)[] values) =>
        values.ToDictionary(v => v.Name, v => v.Value, StringComparer.Ordinal);

    [Fact]
    public void A_value_stands_where_its_placeholder_was_and_is_taken_as_it_is() =>
        Assert.Equal(
            ["Dear {case} & <b>,", "Tired."],
            ReportTexts.Fill(
                Letter,
                Audience.Caregiver,
                Values(("child", "{case} & <b>"), ("remarks", "Tired."), ("case", "QC-1"))
            )
        );

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void For_a_missing_or_empty_value_stands_what_the_text_says_instead(bool isEmpty) =>
        Assert.Equal(
            ["Dear family,"],
            ReportTexts.Fill(
                Letter,
                Audience.Caregiver,
                isEmpty ? Values(("child", ""), ("remarks", "")) : Values()
            )
        );

    [Theory]
    [InlineData(Audience.Caregiver, 1)]
    [InlineData(Audience.Team, 2)]
    [InlineData(Audience.TeamOnly, 3)]
    public void A_paragraph_for_a_narrower_circle_is_left_out(Audience reader, int paragraphs) =>
        Assert.Equal(paragraphs, ReportTexts.Fill(Letter, reader, Values()).Count);

    [Fact]
    public void A_text_for_a_narrower_circle_is_refused() =>
        Assert.Throws<ArgumentException>(() =>
            ReportTexts.Fill(Letter with { Audience = Audience.Team }, Audience.Caregiver, Values())
        );
}
