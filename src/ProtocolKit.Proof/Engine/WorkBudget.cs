namespace ProtocolKit.Proof.Engine;

/// <summary>So many joins a question may try, a measure of work that is the same on every machine.</summary>
/// <param name="limit">Distinct rows kept apart at most.</param>
internal sealed class WorkBudget(long limit)
{
    private long _work;

    /// <summary>Work that is known to end.</summary>
    public static WorkBudget None => new(long.MaxValue / 32);

    /// <exception cref="ProofLimitException">There is nothing left.</exception>
    public void Spend(long joins)
    {
        _work += joins;
        if (_work > limit * 16)
        {
            throw new ProofLimitException("there are too many cases to tell apart within the limit of work");
        }
    }
}
