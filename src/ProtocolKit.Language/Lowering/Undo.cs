namespace ProtocolKit.Language.Lowering;

/// <summary>What was changed on the way, to be changed back where the way led nowhere.</summary>
internal sealed class Undo
{
    private readonly Stack<Action> _back = [];

    public void Add(Action back) => _back.Push(back);

    /// <summary>Changes all of it back, the last change first.</summary>
    public void All()
    {
        while (_back.TryPop(out var back))
        {
            back();
        }
    }
}
