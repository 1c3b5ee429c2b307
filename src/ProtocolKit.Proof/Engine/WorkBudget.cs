namespace ProtocolKit.Proof.Engine;

/// <summary>So many joins a question may try, a measure of work that is the same on every machine.</summary>
/// <param name="limit">Distinct rows kept apart at most.</param>
internal sealed class WorkBudget(long limit)
{
    private const int JoinsOfARow = 16;

    public long Spent { get; private set; }

    /// <summary>Work that is known to end.</summary>
    public static WorkBudget None => new(long.MaxValue / 32);

    /// <summary>Joins for so many rows.</summary>
    public static long Of(long limit) => limit * JoinsOfARow;

    /// <exception cref="ProofLimitException">There is nothing left.</exception>
    public void Spend(long joins)
    {
        Spent += joins;
        if (Spent > Of(limit))
        {
            throw new ProofLimitException("there are too many cases to tell apart within the limit of work");
        }
    }
}
