using ProtocolKit.Verification.Targets;

namespace ProtocolKit.Verification.Tests;

/// <summary>What code said, number by number: nothing that is written otherwise than a whole number may pass for one.</summary>
public class SaidNumbersTests
{
    [Theory]
    [InlineData("-0")]
    [InlineData("00")]
    [InlineData("07")]
    [InlineData("-07")]
    [InlineData("+7")]
    [InlineData(" 7")]
    [InlineData("7 ")]
    [InlineData("7.0")]
    [InlineData("7e0")]
    [InlineData("")]
    [InlineData("-")]
    [InlineData("NaN")]
    [InlineData("true")]
    [InlineData("٧")]
    [InlineData("9223372036854775808")]
    public void What_is_not_written_as_a_whole_number_is_equal_to_none(string text)
    {
        var said = SaidNumbers.Read($"1,{text},3");

        foreach (var number in new long[] { 0, 7, -7, long.MinValue + 1, long.MaxValue })
        {
            Assert.Equal(1, said.FirstOtherThan([1, number, 3]));
        }

        Assert.Equal(text, said.Text(1));
    }

    [Theory]
    [InlineData("0", 0)]
    [InlineData("-5", -5)]
    [InlineData("9007199254740991", 9007199254740991)]
    public void A_whole_number_is_read(string text, long number)
    {
        var said = SaidNumbers.Read($"{text},1");

        Assert.Equal(-1, said.FirstOtherThan([number, 1]));
        Assert.Equal(1, said.FirstOtherThan([number, 2]));
        Assert.Equal(0, said.FirstOtherThan([number + 1, 1]));
        Assert.Equal(text, said.Text(0));
    }

    [Fact]
    public void Numbers_are_taken_in_another_order_and_a_place_beyond_them_says_nothing()
    {
        var said = SaidNumbers.Read("10,x,30").At([2, 1, 0, 3]);

        Assert.Equal(["30", "x", "10", "nothing"], Enumerable.Range(0, 4).Select(said.Text));
        Assert.Equal(0, SaidNumbers.Read("").Count);
    }
}
