using ProtocolKit.Model;

namespace ProtocolKit.Checks.Tests.Mixed;

/// <summary>A filled sheet of a <see cref="MixedSpec"/>: what was written beside each answer, whether it was to be given or not.</summary>
/// <param name="Written">By the answer's name: a rating, or minus the number of the reason why it is untried.</param>
internal sealed record MixedSheet(int Months, bool IsSore, IReadOnlyDictionary<string, int> Written)
{
    private static readonly State[] Untried =
    [
        State.NotPlanned,
        State.OutOfTime,
        State.Refused,
        State.NotUnderstood,
        State.Spoiled,
        State.NotPossible,
        State.Stopped,
    ];

    /// <summary>A share of the answers is untried, and many are 0, so that runs come about.</summary>
    public static MixedSheet Draw(MixedSpec spec, Random random)
    {
        var untried = random.Next(4) switch
        {
            0 => 0,
            1 => 25,
            _ => 8,
        };
        var written = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var task in spec.Tasks)
        {
            if (task.Trying == Trying.BestOfTwo)
            {
                written[$"{task.Name}.rate.trial-1"] = Answer();
                written[$"{task.Name}.rate.trial-2"] = Answer();
                continue;
            }

            written[$"{task.Name}.rate"] = Answer();
            if (task.Trying == Trying.WithHelp)
            {
                // The rungs from the strongest to none.
                written[$"{task.Name}.help"] = random.Next(3);
                written[$"{task.Name}.rate.with-help"] = random.Next(3);
            }
        }

        foreach (var name in new[] { "x", "y" })
        {
            written[$"{name}.rate.right"] = Answer();
            written[$"{name}.rate.left"] = Answer();
        }

        // Some sheets lie outside the protocol's ages.
        return new MixedSheet(random.Next(44, 76), random.Next(2) == 0, written);

        int Answer() =>
            random.Next(100) < untried
                ? -(int)Untried[random.Next(Untried.Length)]
                : random.Next(random.Next(1, 4));
    }

    /// <summary>The same sheet in the fields of the program.</summary>
    public long[] Fields(Compiled compiled)
    {
        var fields = compiled.Lowest();
        fields[compiled.Program.AgeField] = Months;
        foreach (var question in compiled.Program.History)
        {
            fields[question.Field] = IsSore ? 1 : 0;
        }

        foreach (var slot in compiled.Program.Answers)
        {
            var number = Written[slot.Key];
            fields[slot.ValueField] = Math.Max(0, number);
            fields[slot.StateField] = Math.Max(0, -number);

            // Where nobody helped there is nothing that came of it.
            if (slot is { IsHelp: true, Trial: 2 } && Written[$"{slot.Key.Split('.')[0]}.help"] == 2)
            {
                (fields[slot.ValueField], fields[slot.StateField]) = (0, (long)State.NotApplicable);
            }
        }

        return fields;
    }

    public override string ToString() =>
        $"{Months} months, sore {IsSore}: {string.Join(", ", Written.Select(w => $"{w.Key} {w.Value}"))}";
}
