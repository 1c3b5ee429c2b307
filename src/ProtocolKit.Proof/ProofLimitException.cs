namespace ProtocolKit.Proof;

/// <summary>A question is larger than what is worked out exactly. It is caught inside and told as <em>not proved</em>.</summary>
public sealed class ProofLimitException : Exception
{
    public ProofLimitException() { }

    /// <param name="message">Why, in words that follow “because”.</param>
    public ProofLimitException(string message)
        : base(message) { }

    public ProofLimitException(string message, Exception inner)
        : base(message, inner) { }
}
