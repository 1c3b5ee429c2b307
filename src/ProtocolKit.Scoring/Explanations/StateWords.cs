using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>The fixed words for states in JSON and tables; people read sentences instead.</summary>
internal static class StateWords
{
    public static string Of(State state) =>
        state switch
        {
            State.Known => "known",
            State.NotApplicable => "not-applicable",
            _ => States.Untried.First(u => u.State == state).Code,
        };

    public static string Of(BandState state) =>
        state switch
        {
            BandState.Known => "known",
            BandState.Undecided => "undecided",
            BandState.NotApplicable => "not-applicable",
            BandState.Blocked => "blocked",
            _ => "no-band",
        };

    public static string Of(Decision decision) =>
        decision switch
        {
            Decision.Applies => "applies",
            Decision.AppliesNot => "applies-not",
            _ => "undecided",
        };

    public static string Of(BasisKind kind) =>
        kind switch
        {
            BasisKind.Published => "published",
            BasisKind.Pilot => "pilot",
            _ => "provisional",
        };
}
