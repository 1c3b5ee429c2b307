using ProtocolKit.Language;
using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Verification.Tests.Fhir;

namespace ProtocolKit.Verification.Tests;

/// <summary>Emitted code gives and leaves out the same tasks as the reference, on canonical records and on others.</summary>
public sealed class RoutingTests
{
    public const string Routed = """
        protocol routed
          title   "Routed"
          edition 1.0
          ages    4;0 to 8;11
          short form 5 min
        scale three, higher is better
          2 "full"
          1 "part"
          0 "none"
        caution gloves "Clean hands."
          for contact mouth
        observation drift "drifts"
        family item(s)
          rate s
        section lips "Lips"
          order of difficulty "invented"
          start at seal from 6;0
          start at smile from 8;0
          go back until 2 in a row full
          stop after 2 tasks in a row rated 0
          task kiss item(three) short form
          task press item(three)
            contact mouth
          task seal item(three) short form, each side right, left
          task puff item(three)
          task smile
            trials up to 2, second when rate below 2, keep highest rate
            rate three
            tick drift
        section tongue "Tongue"
          stop after 2 tasks in a row rated 0
          task tip item(three)
            skip when kiss = 0, left out
          task edge item(three)
            skip when smile.drift is seen and tip = 0, counts lowest
            skip when smile = 2, counts full
          task curl
            contact mouth
            rate three
            count licks 0 to 9, lower is better
          task roof item(three)
            help said again, shown in the mirror (costs 1), started together (costs 1)
        score lips-total "Lips"
          add up rate of every task in lips
        score tongue-total "Tongue"
          add up rate of every task in tongue
        measure licks = curl.licks
        cut-offs lips-total
          ages         low     high
          4;0 to 8;11  0 to 5  6 to 12
          basis provisional "x"
        cut-offs tongue-total
          ages                                   low     high
          4;0 to 5;11                            0 to 3  4 to 8
          6;0 to 8;11, also with tasks left out  0 to 2  3 to 8
          basis provisional "x"
        actions
          more "More" when any band is low
          none "None" when no other action applies
        case-history
          ask sore "Is the mouth sore?", yes-no
            yes closes mouth contact unless agreed
          ask agreed "Does the dentist agree?", yes-no
        """;

    public static TheoryData<string> Names { get; } = [.. Verifier.TargetNames];

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_target_agrees_on_which_tasks_are_given(string target)
    {
        var report = Verifier.Run(
            Protocol(),
            new VerifyOptions
            {
                Records = target == "workbook" ? 150 : 600,
                Targets = [target],
                MostInForms = 40,
                Programs = NpmModules.Programs,
                MissingIsWrong = Environment.GetEnvironmentVariable("CI") == "true",
            }
        );
        Assert.True(report.NothingWrong, VerifyText.Write(report));
    }

    public static Model.Protocol Protocol()
    {
        var compilation = Compilation.Of(new SourceText("routed.protocol", Routed), new NoModules());
        return compilation.Protocol
            ?? throw new InvalidOperationException(
                string.Concat(compilation.Diagnostics.Select(DiagnosticText.Render))
            );
    }
}
