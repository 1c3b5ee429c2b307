namespace ProtocolKit.Calibration.Studies;

/// <summary>
/// The records don't hold what a study asks for: one rater only, no cases, nobody seen twice. The message says what is
/// missing and what to collect or ask instead.
/// </summary>
public sealed class StudyRefusedException : Exception
{
    public StudyRefusedException() { }

    public StudyRefusedException(string message)
        : base(message) { }

    public StudyRefusedException(string message, Exception inner)
        : base(message, inner) { }
}
