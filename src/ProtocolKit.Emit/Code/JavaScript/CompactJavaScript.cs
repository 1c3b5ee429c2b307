namespace ProtocolKit.Emit.Code.JavaScript;

/// <summary>The same module with short names and without comments, to be put inside a page: about a third of the size.</summary>
internal sealed class CompactJavaScript : JavaScriptOutput
{
    internal override bool IsCompact => true;
}
