namespace ProtocolKit.Emit.Templating;

/// <summary>
/// Text that is already right for its target and is written as it stands. Everything that comes from a
/// protocol or a record stays a plain string, which contexts escape or refuse.
/// </summary>
public sealed record Raw(string Text)
{
    public override string ToString() => Text;
}
