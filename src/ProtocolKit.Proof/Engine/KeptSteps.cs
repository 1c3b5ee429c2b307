namespace ProtocolKit.Proof.Engine;

/// <summary>Steps of finished scopes, the latest ones as far as there is room.</summary>
internal sealed class KeptSteps
{
    // Words: 16 MB.
    private const long MostRoom = 1L << 21;

    private readonly Queue<(SharedRows Rows, long Room)> _kept = [];
    private long _room = MostRoom;

    public void Keep(SharedRows rows, IReadOnlyList<SetJoin> steps)
    {
        var room = steps.Sum(s => s.After.Words);
        if (room > MostRoom)
        {
            return;
        }

        while (room > _room)
        {
            var (oldest, freed) = _kept.Dequeue();
            oldest.Steps = null;
            _room += freed;
        }

        _room -= room;
        rows.Steps = steps;
        _kept.Enqueue((rows, room));
    }
}
