namespace ProtocolKit.Emit.Templating;

/// <summary>
/// A template is missing, is not well formed, uses something it may not, or failed while it was filled.
/// The message names the template and, where known, its line.
/// </summary>
public sealed class TemplateFaultException : Exception
{
    public TemplateFaultException() { }

    public TemplateFaultException(string message)
        : base(message) { }

    public TemplateFaultException(string message, Exception inner)
        : base(message, inner) { }
}
