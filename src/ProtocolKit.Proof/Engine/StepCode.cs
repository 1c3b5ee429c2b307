namespace ProtocolKit.Proof.Engine;

/// <summary>The values of one step as instructions over numbered registers: what was kept, what is joined, what is worked out.</summary>
internal sealed class StepCode
{
    private readonly List<Instruction> _code = [];
    private readonly HashSet<int> _tests = [];
    private readonly Dictionary<Node, int> _registers = [];
    private readonly List<(int Register, long Value)> _constants = [];
    private Instruction[] _ready = [];

    private readonly record struct Instruction(
        Op Op,
        int Into,
        int A,
        int B,
        int C,
        long Value,
        long[] Numbers
    )
    {
        /// <summary>Nothing more is worked out where it is 0.</summary>
        public bool MustHold { get; init; }
    }

    public int Registers { get; private set; }

    public int Input(Node node) => _registers[node] = Registers++;

    /// <summary>Inputs in registers one after another, from the one that is given.</summary>
    public int Inputs(IEnumerable<Node> nodes)
    {
        var first = Registers;
        foreach (var node in nodes)
        {
            Input(node);
        }

        return first;
    }

    public int RegisterOf(Node node)
    {
        if (!_registers.TryGetValue(node, out var register))
        {
            if (!node.IsConstant)
            {
                throw new InvalidOperationException($"{node} is read before it is known.");
            }

            _registers[node] = register = Registers++;
            _constants.Add((register, node.Value));
        }

        return register;
    }

    public void Add(Node node)
    {
        var args = node.Args.Select(RegisterOf).ToArray();
        var into = Registers++;
        _registers[node] = into;
        _code.Add(
            new Instruction(
                node.Op,
                into,
                args.ElementAtOrDefault(0),
                args.ElementAtOrDefault(1),
                args.Length > 2 ? args[2] : args.Length,
                node.Value,
                node.Numbers
            )
        );
        _ready = [];
    }

    /// <summary>Adds values, each after those it reads; those that are conditions must hold.</summary>
    public void Add(IEnumerable<Node> values, IReadOnlySet<Node> conditions)
    {
        foreach (var node in values)
        {
            Add(node);
            if (conditions.Contains(node))
            {
                _tests.Add(RegisterOf(node));
            }
        }
    }

    /// <summary>A frame of registers with the constants in it.</summary>
    public long[] Frame()
    {
        var frame = new long[Math.Max(1, Registers)];
        foreach (var (register, value) in _constants)
        {
            frame[register] = value;
        }

        _ready = _tests.Count == 0 ? [.. _code] : TestsFirst();
        return frame;
    }

    /// <summary>What decides whether the step is possible at all comes first: most often it isn't.</summary>
    private Instruction[] TestsFirst()
    {
        var needed = new HashSet<int>(_tests);
        foreach (var i in Enumerable.Reverse(_code).Where(i => needed.Contains(i.Into)))
        {
            needed.UnionWith([i.A, i.B, i.C]); // a number of parts may stand in C: one value more is no harm
        }

        var ready = _code
            .Select(i => i with { MustHold = _tests.Contains(i.Into) })
            .ToLookup(i => needed.Contains(i.Into));
        return [.. ready[true], .. ready[false]];
    }

    /// <summary>Works out every value; false, and the rest left alone, where a condition fails.</summary>
    public bool Run(long[] r)
    {
        foreach (ref readonly var i in _ready.AsSpan())
        {
            r[i.Into] = i.Op switch
            {
                Op.Linear => Sum(i, r),
                Op.Multiply => r[i.A] * r[i.B],
                Op.Least => Math.Min(r[i.A], r[i.B]),
                Op.Most => Math.Max(r[i.A], r[i.B]),
                Op.Choose => r[i.A] != 0 ? r[i.B] : r[i.C],
                Op.Divide => r[i.A] / r[i.B],
                Op.Pick => Case(i.Numbers, r[i.A]),
                Op.Equal => r[i.A] == r[i.B] ? 1 : 0,
                Op.AtMost => r[i.A] <= r[i.B] ? 1 : 0,
                Op.Both => r[i.A] & r[i.B],
                Op.Either => r[i.A] | r[i.B],
                Op.Not => 1 - r[i.A],
                Op.Keep => r[i.A],
                Op.Clamp => Math.Clamp(r[i.A], i.Numbers[0], i.Numbers[1]),
                _ => throw new InvalidOperationException("A field is no instruction."),
            };
            if (i.MustHold && r[i.Into] == 0)
            {
                return false;
            }
        }

        return true;
    }

    private static long Sum(in Instruction i, long[] r)
    {
        var sum = i.Value + (i.Numbers[0] * r[i.A]);
        return i.C == 2 ? sum + (i.Numbers[1] * r[i.B]) : sum;
    }

    private static long Case(long[] cases, long subject)
    {
        for (var i = 0; i < cases.Length; i += 3)
        {
            if (subject <= cases[i + 1])
            {
                return cases[i + 2];
            }
        }

        return cases[^1];
    }
}
