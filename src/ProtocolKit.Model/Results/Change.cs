namespace ProtocolKit.Model;

/// <summary>The three answers to whether a child has changed between two sittings.</summary>
public enum ChangeAnswer
{
    /// <summary>The change is larger than sittings differ by themselves.</summary>
    BeyondError,

    /// <summary>It is not: nothing shows that the child has changed, nor that it hasn't.</summary>
    WithinError,

    /// <summary>Too little is known, or the two sittings can't be compared.</summary>
    CannotSay,
}

/// <param name="Least">The least the value can have gone up; negative: it went down. Null where nothing is known.</param>
/// <param name="Most">The most it can have gone up.</param>
/// <param name="Why">Why nothing can be said, as a sentence; empty otherwise.</param>
public sealed record ChangeResult(
    ReTest ReTest,
    ChangeAnswer Answer,
    Rational? Least,
    Rational? Most,
    string Why
);
