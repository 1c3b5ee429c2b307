using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>A lowered cut-off table: its band as an index, or a code beyond the bands.</summary>
internal sealed record LoweredTable(CutOffTable Table, IntExpr Band)
{
    public int Undecided => Table.Bands.Count;
    public int NotApplicable => Table.Bands.Count + 1;
    public int Blocked => Table.Bands.Count + 2;
    public int NoBand => Table.Bands.Count + 3;

    public BoolExpr IsAnyOf(IEnumerable<int> codes) => Bools.Any(codes.Select(c => Bools.Equal(Band, c)));
}

/// <summary>Conditions about bands: of one measure or score, of any, of so many or more.</summary>
internal sealed class BandConditions(
    AnswerLowering answers,
    ProgramBuilder program,
    Declarations declared,
    WorkLimit work,
    DiagnosticBag diagnostics
)
{
    private readonly List<LoweredTable> _tables = [];
    private readonly Dictionary<(int Line, string Words, Reach Reach), Truth> _known = [];

    public IReadOnlyList<LoweredTable> Tables => _tables;

    /// <summary>Bands are known once all measures and scores are; until then nothing may ask for one.</summary>
    public bool IsReady { get; set; }

    public void Add(LoweredTable table) => _tables.Add(table);

    /// <summary>A table anew. Where it has other bands, what is known of them is to be forgotten.</summary>
    public void Replace(int index, LoweredTable table, Undo undo)
    {
        var before = _tables[index];
        undo.Add(() => _tables[index] = before);
        _tables[index] = table;
    }

    /// <summary>A table whose heading names nothing any more.</summary>
    public void Remove(int index, Undo undo)
    {
        var before = _tables[index];
        _tables.RemoveAt(index);
        undo.Add(() => _tables.Insert(index, before));
    }

    /// <summary>Before the lines that say it are dropped.</summary>
    public void ForgetConditions() => _known.Clear();

    /// <summary>True where the table is for the form in use.</summary>
    public BoolExpr InUse(LoweredTable table) =>
        answers.HasShortForm ? Bools.Equal(answers.Form, table.Table.ShortForm ? 1 : 0) : Bools.True;

    public Truth? Count(BandsNode node, SourceText source)
    {
        if (!IsReady)
        {
            ReportTooEarly(node.Place, source);
            return null;
        }

        if (node.AtLeast?.Number is { } number && (!number.IsInteger || number < 1))
        {
            diagnostics.Report(
                source,
                node.AtLeast.Place,
                NumberMessages.Number(
                    $"{number} or more bands can't be counted.",
                    "Write a whole number from 1."
                )
            );
            return null;
        }

        if (
            !work.Spend(declared.CutOffs.Count, source, node.Place)
            || !Check(node.What, declared.CutOffs, source)
            || _tables.Count < declared.CutOffs.Count
        )
        {
            return null;
        }

        var each = _tables.Select(t => Of(t, node.What)).ToList();
        var least = node.AtLeast is null
            ? 1
            : (long)System.Numerics.BigInteger.Min(node.AtLeast.Number!.Value.Numerator, 1_000_000);
        if (least == 1)
        {
            return new Truth(Bools.Any(each.Select(t => t.Surely)), Bools.All(each.Select(t => t.SurelyNot)));
        }

        var one = IntMath.Number(1);
        var sure = program.Math.Sum([.. each.Select(t => new SumTerm(t.Surely, one))]);
        var possible = program.Math.Sum([.. each.Select(t => new SumTerm(Bools.Not(t.SurelyNot), one))]);
        return new Truth(Bools.AtLeast(sure, least), Bools.Not(Bools.AtLeast(possible, least)));
    }

    public Truth? OfOutcome(string name, Value value, IsNode node, SourceText source)
    {
        var tables = _tables.Where(t => t.Table.Outcome.Name == name).ToList();
        var word = node.What.Words[0].Text;
        if (!IsReady && word is not ("blocked" or "not applicable"))
        {
            ReportTooEarly(node.Place, source);
            return null;
        }

        if (tables.Count == 0 && (!IsReady || !MayHaveTables(name)))
        {
            return WithoutTable(name, value, node, source, word);
        }

        if (!work.Spend(1 + (_tables.Count / 100), source, node.Place))
        {
            return null;
        }

        var blocks = declared.CutOffs.Where(c => c.Outcome.Text == name).ToList();
        if (!Check(node.What, blocks, source) || tables.Count < blocks.Count)
        {
            return null;
        }

        var each = tables.Select(t => Of(t, node.What)).ToList();
        return new Truth(Bools.Any(each.Select(t => t.Surely)), Bools.All(each.Select(t => t.SurelyNot)));
    }

    private Truth? WithoutTable(string name, Value value, IsNode node, SourceText source, string word)
    {
        switch (word)
        {
            case "blocked":
                return Truth.TwoValued(Bools.AtLeast(value.State, 2));
            case "not applicable":
                return Truth.TwoValued(Bools.Equal(value.State, 1));
            default:
                diagnostics.Report(
                    source,
                    node.Subject.Place,
                    MeaningMessages.Missing(
                        $"{name} has no cut-offs, so it has no band.",
                        $"Add cut-offs {name}, or compare its value."
                    )
                );
                return null;
        }
    }

    private void ReportTooEarly(Place place, SourceText source) =>
        diagnostics.Report(source, place, NameMessages.BandInValue());

    /// <summary>A table of it could not be read, or may stand in a module that is missing.</summary>
    private bool MayHaveTables(string outcome) =>
        !declared.AllFound
        || declared.HasBroken("cut-offs", outcome)
        || declared.CutOffs.Exists(c => c.Outcome.Text == outcome);

    private bool Check(Complement what, List<CutOffsBlock> blocks, SourceText source)
    {
        var known = blocks
            .SelectMany(b => b.Bands)
            .Select(b => b.Text)
            .Distinct(StringComparer.Ordinal)
            .ToList();
        var all = declared.AllFound && !declared.HasBroken("cut-offs") && !blocks.Exists(b => b.Incomplete);
        foreach (
            var word in what.Words.Where(w =>
                !IsState(w.Text) && !known.Contains(w.Text, StringComparer.Ordinal)
            )
        )
        {
            var message = NameMessages.UnknownOf("band", word.Text, known);
            if (all || message.Edit is not null)
            {
                diagnostics.Report(source, word.Place, message);
            }

            return false;
        }

        return true;
    }

    private static bool IsState(string word) => word is "undecided" or "blocked" or "not applicable";

    /// <summary>A table of the other form is neither: it surely isn't the band asked for.</summary>
    private Truth Of(LoweredTable table, Complement what)
    {
        var line = ((LineValue)table.Band).Line;
        var key = (line, string.Join(" or ", what.Words.Select(w => w.Text)), what.Reach);
        if (_known.TryGetValue(key, out var known))
        {
            return known;
        }

        var name = $"{program.Lines[line].Name}.is-{Slug(what)}";
        var truth = Work(table, what);
        var surely = program.Name(name, truth.Surely, "surely");
        var named = IsTwoValued(truth)
            ? Truth.TwoValued(surely)
            : new Truth(surely, program.Name(name + ".not", truth.SurelyNot, "surely not"));
        return _known[key] = named;
    }

    private static bool IsTwoValued(Truth truth) =>
        truth.SurelyNot is Not not && ReferenceEquals(not.Inner, truth.Surely);

    private static string Slug(Complement what)
    {
        var words = string.Join("-or-", what.Words.Select(w => w.Text.Replace(' ', '-')));
        return what.Reach switch
        {
            Reach.OrWorse => words + "-or-worse",
            Reach.OrBetter => words + "-or-better",
            _ => words,
        };
    }

    private Truth Work(LoweredTable table, Complement what)
    {
        var inUse = InUse(table);
        if (IsState(what.Words[0].Text))
        {
            var codes = what.Words.Select(w =>
                w.Text switch
                {
                    "undecided" => table.Undecided,
                    "blocked" => table.Blocked,
                    _ => table.NotApplicable,
                }
            );
            return Truth.TwoValued(Bools.And(inUse, table.IsAnyOf(codes)));
        }

        var index = table.Table.Bands.ToList().FindIndex(b => b.Name == what.Words[0].Text);
        if (index < 0)
        {
            return Truth.TwoValued(Bools.False);
        }

        var count = table.Table.Bands.Count;
        var (from, to) = what.Reach switch
        {
            Reach.OrWorse => (0, index),
            Reach.OrBetter => (index, count - 1),
            _ => (index, index),
        };
        var surely = Bools.And(Bools.AtLeast(table.Band, from), Bools.AtMost(table.Band, to));
        // A value in no band is a hole in the table: nobody may conclude anything from it.
        var open = table.IsAnyOf([table.Undecided, table.Blocked, table.NoBand]);
        return new Truth(surely, Bools.Not(Bools.Or(surely, open)));
    }
}
