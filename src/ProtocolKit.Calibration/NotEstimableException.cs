namespace ProtocolKit.Calibration;

/// <summary>
/// The data don't hold the figure that was asked for: too few children, one category only, no variance.
/// The message is one sentence for a reader who is no statistician; nothing is invented in its place.
/// </summary>
public sealed class NotEstimableException : Exception
{
    public NotEstimableException() { }

    public NotEstimableException(string message)
        : base(message) { }

    public NotEstimableException(string message, Exception inner)
        : base(message, inner) { }
}
