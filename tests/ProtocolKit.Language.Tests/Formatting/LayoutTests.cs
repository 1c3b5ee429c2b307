using ProtocolKit.Language.Formatting;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Formatting;

/// <summary>The one layout, shown by hand: before and after.</summary>
public sealed class LayoutTests
{
    [Fact]
    public void Levels_are_two_spaces_and_what_follows_first_words_stands_in_a_column() =>
        Becomes(
            """
            protocol tiny
                title "Tiny"
                edition    1
                ages 4;0 to 5;11
                short form 15 min
                purpose "Finds."
                  "More."

            task a
             contact   none
             say "Go."
             stop when "it hurts"
             choice
                 one "One."
                 another "Another."
            """,
            """
            protocol tiny
              title   "Tiny"
              edition 1
              ages    4;0 to 5;11
              short form 15 min
              purpose "Finds."
                "More."

            task a
              contact none
              say     "Go."
              stop when "it hurts"
              choice
                one     "One."
                another "Another."

            """
        );

    [Fact]
    public void Cells_of_a_table_stand_under_each_other() =>
        Becomes(
            """
            cut-offs t
              ages  low     high
              4;0 to 4;11  0 to 1          2
              5;0 to 5;11    none  0 to 2
              basis   provisional "awaiting the pilot"
            """,
            """
            cut-offs t
              ages         low     high
              4;0 to 4;11  0 to 1  2
              5;0 to 5;11  none    0 to 2
              basis provisional "awaiting the pilot"

            """
        );

    /// <summary>A row may leave out cells: those it has belong to the headings they stand under, and must go on doing so.</summary>
    [Fact]
    public void A_cell_stays_under_the_heading_it_stands_nearest_to() =>
        Becomes(
            """
            cut-offs t
              ages         low         mid         high
              4;0 to 5;11                          0 to 2
              basis provisional "x"
            """,
            """
            cut-offs t
              ages         low  mid  high
              4;0 to 5;11            0 to 2
              basis provisional "x"

            """
        );

    [Fact]
    public void Lines_of_one_kind_under_each_other_share_a_column() =>
        Becomes(
            """
            material light "Light"
            material ruler "Ruler" , "1"
            material screen-board "Board"

            band low "Low"
            case-history
              ask worry "What?"
              ask onset   "When?", yes-no
            section s "S"
              task kiss posture("Kiss.")
              task wide-smile   posture( "Smile." ,2)
            """,
            """
            material light        "Light"
            material ruler        "Ruler", "1"
            material screen-board "Board"

            band low "Low"
            case-history
              ask worry "What?"
              ask onset "When?", yes-no
            section s "S"
              task kiss       posture("Kiss.")
              task wide-smile posture("Smile.", 2)

            """
        );

    /// <summary>A minus or slash that touches its neighbour means something else than one that stands free.</summary>
    [Fact]
    public void Signs_that_touch_go_on_touching() =>
        Becomes(
            "measure m  in  syllables/s , step 0.1   = ( a.b   / a.c )  -  -2   # why\n",
            "measure m in syllables/s, step 0.1 = (a.b / a.c) - -2  # why\n"
        );

    [Fact]
    public void Comments_and_single_blank_lines_stay_where_they_belong() =>
        Becomes(
            """


            # of the file

            section s "S"


                # of the task
                task a   item(three)
                    # of its body
            # of the next
            section t "T"
            # last


            """,
            """
            # of the file

            section s "S"

              # of the task
              task a item(three)
                # of its body
            # of the next
            section t "T"
            # last

            """
        );

    [Fact]
    public void Tabs_and_other_line_ends_are_put_right() =>
        Becomes(
            "section s \"S\"\r\n\ttask a item(three)\t\r\n\t\tsay \"Go.\"\r\n",
            "section s \"S\"\n  task a item(three)\n    say \"Go.\"\n"
        );

    /// <summary>The wrong statement keeps every byte, with what is under it; its neighbours are laid out.</summary>
    [Fact]
    public void What_cant_be_read_is_left_byte_for_byte()
    {
        const string Wrong = "taks   b\r\n      say    \"Go.\"   # here \r\n   rate   three\t\n";
        var formatted = Formatter.Of(
            new SourceText("t", "task   a\n    rate   three\n" + Wrong + "\ntask   c\n    rate   three")
        );
        Assert.Equal("task a\n  rate three\n" + Wrong + "\ntask c\n  rate three\n", formatted.Text);
        Assert.Equal([3], formatted.UnreadLines);
        Assert.Equal([1, 2, 7, 8], formatted.ChangedLines);
    }

    /// <summary>A file indented with tabs throughout, of which each alone could be two or four columns wide.</summary>
    [Fact]
    public void Tabs_are_as_wide_as_the_first_of_them() =>
        Becomes(
            "task a\n\tsay \"Go.\"\n\tchoice\n\t\tone \"One.\"\n\t\ttwo \"Two.\"\n\tnote \"N\"\n",
            "task a\n  say  \"Go.\"\n  choice\n    one \"One.\"\n    two \"Two.\"\n  note \"N\"\n"
        );

    /// <summary>The line under the first comment can't be read and begins with a tab; the comment doesn't creep at each formatting.</summary>
    [Fact]
    public void A_comment_above_a_tab_that_stays_keeps_its_column() =>
        Becomes(
            "section s \"S\"\n  # why\n\t{side} off\n\t #here\n",
            "section s \"S\"\n  # why\n\t{side} off\n    #here\n"
        );

    [Theory]
    [InlineData("\0binary")]
    [InlineData("")]
    public void What_is_no_text_is_left_alone(string text) =>
        Assert.Equal(text, Formatter.Format(new SourceText("t", text)));

    private static void Becomes(string before, string after)
    {
        var text = before.ReplaceLineEndings("\n");
        if (before.Contains('\r', StringComparison.Ordinal))
        {
            text = before;
        }

        var formatted = Formatter.Format(new SourceText("t", text));
        Assert.Equal(after.ReplaceLineEndings("\n"), formatted);
        Assert.Equal(formatted, Formatter.Format(new SourceText("t", formatted)));
    }
}
