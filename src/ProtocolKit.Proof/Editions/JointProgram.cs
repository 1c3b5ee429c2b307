using ProtocolKit.Model;

namespace ProtocolKit.Proof.Editions;

/// <summary>
/// Two editions read from one record: the later edition's program, followed by the lines of the earlier one. What both work out
/// alike is one and the same for the engine.
/// </summary>
internal sealed class JointProgram
{
    private readonly int _shift;

    private JointProgram(Protocol old, Protocol @new)
    {
        _shift = @new.Program.Lines.Count;
        Protocol = @new with
        {
            Ages = Shared(old.Ages, @new.Ages),
            Program = @new.Program with
            {
                Lines = [.. @new.Program.Lines, .. old.Program.Lines.Select(Shifted)],
            },
        };
    }

    /// <summary>The later edition at the ages both are for, with the lines of both.</summary>
    public Protocol Protocol { get; }

    /// <summary>Null where the two don't read the same records: other answers, bounds, levels or order, or no age in common.</summary>
    public static JointProgram? Of(Protocol old, Protocol @new) =>
        Reads(old.Program).SequenceEqual(Reads(@new.Program)) && old.Ages.Overlaps(@new.Ages)
            ? new JointProgram(old, @new)
            : null;

    /// <summary>What a record's fields mean: a level's number says nothing without its points.</summary>
    private static IEnumerable<string> Reads(ScoringProgram program) =>
        program
            .Fields.Select(f => $"{f.Name} {f.Low} {f.High}")
            .Concat(
                program.Answers.Select(a =>
                    $"{a.Key} {a.Response.Step} {string.Join(' ', a.Response.Scale?.Levels.Select(l => l.Points.ToString()) ?? [])} "
                    + string.Join(' ', a.Response.Options.Select(o => o.Name))
                )
            );

    /// <summary>Where a line of the earlier edition stands.</summary>
    public int OldLine(int line) => _shift + line;

    private static AgeRange Shared(AgeRange a, AgeRange b) =>
        new(a.From > b.From ? a.From : b.From, a.To < b.To ? a.To : b.To);

    private ProgramLine Shifted(ProgramLine line) =>
        line with
        {
            Name = $"earlier.{line.Name}",
            Value = line.Value is null ? null : Shifted(line.Value),
            Condition = line.Condition is null ? null : Shifted(line.Condition),
        };

    private IntExpr Shifted(IntExpr e) =>
        e switch
        {
            LineValue v => v with { Line = v.Line + _shift },
            Add a => a with { Left = Shifted(a.Left), Right = Shifted(a.Right) },
            Subtract s => s with { Left = Shifted(s.Left), Right = Shifted(s.Right) },
            Multiply m => m with { Left = Shifted(m.Left), Right = Shifted(m.Right) },
            Least l => l with { Left = Shifted(l.Left), Right = Shifted(l.Right) },
            Most m => m with { Left = Shifted(m.Left), Right = Shifted(m.Right) },
            Choose c => c with { If = Shifted(c.If), Then = Shifted(c.Then), Else = Shifted(c.Else) },
            FloorDivide d => d with { Dividend = Shifted(d.Dividend), Divisor = Shifted(d.Divisor) },
            GuardedSum s => s with
            {
                Terms =
                [
                    .. s.Terms.Select(t => new SumTerm(
                        t.If is null ? null : Shifted(t.If),
                        Shifted(t.Value)
                    )),
                ],
            },
            Pick p => p with { Subject = Shifted(p.Subject) },
            _ => e,
        };

    private BoolExpr Shifted(BoolExpr e) =>
        e switch
        {
            LineCondition c => c with { Line = c.Line + _shift },
            IsEqual x => x with { Left = Shifted(x.Left), Right = Shifted(x.Right) },
            IsAtMost x => x with { Left = Shifted(x.Left), Right = Shifted(x.Right) },
            BothOf x => x with { Left = Shifted(x.Left), Right = Shifted(x.Right) },
            EitherOf x => x with { Left = Shifted(x.Left), Right = Shifted(x.Right) },
            Not x => x with { Inner = Shifted(x.Inner) },
            _ => e,
        };
}
