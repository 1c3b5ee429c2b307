using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Reads the answers into the fields of the core program, and says of each one missing that it is.</summary>
internal sealed class AnswerReader
{
    private readonly Protocol _protocol;
    private readonly ProblemList _problems;
    private readonly long[] _fields;
    private readonly bool _isShort;
    private readonly IReadOnlyList<AnswerSlot> _slots;
    private readonly Dictionary<string, int> _byKey;
    private readonly Finding[] _found;
    private readonly List<AnswerSlot> _missing = [];
    private readonly List<(AnswerSlot Slot, Origin Origin)> _blank = [];
    private Origin _where;

    public AnswerReader(Protocol protocol, bool isShort, long[] fields, ProblemList problems)
    {
        (_protocol, _isShort, _fields, _problems) = (protocol, isShort, fields, problems);
        _slots = protocol.Program.Answers;
        _found = new Finding[_slots.Count];
        _byKey = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var i = 0; i < _slots.Count; i++)
        {
            _byKey[_slots[i].Key] = i;
        }
    }

    private enum Finding
    {
        Absent,
        Blank,
        Wrong,
        Given,
    }

    /// <param name="answers">What stands under the key; nothing where it is missing.</param>
    /// <param name="where">Where to point for answers that have no line.</param>
    public void Read(MapNode? answers, Origin where)
    {
        _where = where;
        var blanks = new Dictionary<int, Origin>();
        foreach (var entry in answers?.Entries ?? [])
        {
            if (!_byKey.TryGetValue(entry.Key, out var slot))
            {
                AnswerNames.ReportUnknown(entry, _protocol, _problems);
                continue;
            }

            _found[slot] = ReadOne(slot, entry);
            if (_found[slot] == Finding.Blank)
            {
                blanks[slot] = entry.Origin;
            }
        }

        foreach (
            var group in Enumerable
                .Range(0, _slots.Count)
                .GroupBy(i => (_slots[i].Task.Name, _slots[i].Variant.Name))
        )
        {
            SettleRest([.. group], blanks);
        }

        LeaveOutWhatIsNotGiven();
        foreach (var (slot, origin) in _blank)
        {
            _problems.Add(origin, slot.Key, $"{slot.Key} is blank.", AnswerNames.GiveAnAnswer);
        }

        ReportMissing();
    }

    /// <summary>
    /// What the routing keeps from being given may be absent; an answer given all the same is kept and told of.
    /// Where an answer is wrong, nobody can say which tasks after it should be there.
    /// </summary>
    private void LeaveOutWhatIsNotGiven()
    {
        var program = _protocol.Program;
        if (program.Giving.Count == 0)
        {
            return;
        }

        if (_found.Contains(Finding.Wrong))
        {
            var routed = program.Giving.Select(g => (g.Task.Name, g.Variant.Name)).ToHashSet();
            _missing.RemoveAll(s => routed.Contains((s.Task.Name, s.Variant.Name)));
            _blank.RemoveAll(b => routed.Contains((b.Slot.Task.Name, b.Slot.Variant.Name)));
            return;
        }

        var giving = GivingReader.Of(program, _fields);
        _missing.RemoveAll(s => giving.Of(s.Task, s.Variant) != Giving.Given);
        _blank.RemoveAll(b => giving.Of(b.Slot.Task, b.Slot.Variant) != Giving.Given);
        var answered = _slots.Where(
            (s, i) => _found[i] == Finding.Given && _fields[s.StateField] == (long)State.Known
        );
        giving.Remark(answered, _problems);
    }

    private Finding ReadOne(int index, Entry entry)
    {
        var slot = _slots[index];
        if (entry.Value is TextNode { IsBlank: true })
        {
            return Finding.Blank;
        }

        if (entry.Value is not TextNode text)
        {
            if (entry.Value is not ReportedNode)
            {
                _problems.Add(
                    entry.Origin,
                    slot.Key,
                    $"{slot.Key} takes one value, not a list.",
                    "Write each trial and side on a line of its own, with its full name."
                );
            }

            return Finding.Wrong;
        }

        var value = AnswerValue.Read(slot.Response, text.Text);
        if (value.IsWrong)
        {
            _problems.Add(text.Origin, slot.Key, $"{slot.Key} {value.Fault}.", value.Mend);
            return Finding.Wrong;
        }

        if (IsOutsideForm(slot) && value.State != State.NotPlanned)
        {
            _problems.Add(
                entry.Origin,
                slot.Key,
                $"{slot.Key} is not part of the short form.",
                "Take the line out; or write form: full, and not-planned for each task that wasn't meant to be given."
            );
            return Finding.Wrong;
        }

        Set(
            index,
            IsOutsideForm(slot) ? State.NotApplicable : value.State,
            value.IsKnown ? value.Steps : Low(slot)
        );
        if (value.Remark is not null)
        {
            _problems.Remark($"{slot.Key} {value.Remark}.");
        }

        return Finding.Given;
    }

    private bool IsOutsideForm(AnswerSlot slot) => _isShort && !slot.Task.ShortForm;

    private void Set(int index, State state, long value)
    {
        _fields[_slots[index].StateField] = (long)state;
        _fields[_slots[index].ValueField] = value;
    }

    /// <summary>Decides for one task, or one side of it, what an answer that isn't there means.</summary>
    private void SettleRest(IReadOnlyList<int> group, Dictionary<int, Origin> blanks)
    {
        var plan = _slots[group[0]].Task.Trials;
        var need = Need.Given;
        foreach (var trial in group.GroupBy(i => _slots[i].Trial).OrderBy(t => t.Key))
        {
            need = trial.Key == 1 ? Need.Given : After(group, trial.Key - 1, plan, need);
            foreach (var index in trial)
            {
                Settle(index, need, blanks);
            }
        }
    }

    private void Settle(int index, Need need, Dictionary<int, Origin> blanks)
    {
        var slot = _slots[index];
        if (slot is { IsHelp: true, Trial: 1 } && _found[index] == Finding.Absent && !IsOutsideForm(slot))
        {
            // No word about help: there was none.
            Set(index, State.Known, slot.Response.Options.Count - 1);
            _found[index] = Finding.Given;
            return;
        }

        if (_found[index] == Finding.Given)
        {
            if (need == Need.NotNeeded)
            {
                _problems.Remark(
                    $"{slot.Key} was recorded, but the trial before it was good enough, so it isn't counted."
                );
                NotApplicable(index);
            }

            return;
        }

        if (_found[index] == Finding.Wrong || need == Need.Unclear)
        {
            NotApplicable(index);
            return;
        }

        if (need != Need.Given)
        {
            NotApplicable(index);
        }
        else if (IsOutsideForm(slot))
        {
            NotApplicable(index);
        }
        else if (blanks.TryGetValue(index, out var origin))
        {
            _blank.Add((slot, origin));
            NotApplicable(index);
        }
        else
        {
            _missing.Add(slot);
            NotApplicable(index);
        }
    }

    private void NotApplicable(int index) => Set(index, State.NotApplicable, Low(_slots[index]));

    private long Low(AnswerSlot slot) => _protocol.Program.Fields[slot.ValueField].Low;

    /// <summary>
    /// Whether a trial is needed, from the one before (R10). After an untried one a further trial may be
    /// given and may be left out.
    /// </summary>
    private Need After(IReadOnlyList<int> group, int trialBefore, TrialPlan plan, Need needBefore)
    {
        if (plan.FurtherWhen is not { } rule)
        {
            return Need.Given;
        }

        var decides = group.FirstOrDefault(
            i => _slots[i].Trial == trialBefore && _slots[i].Response.Name == rule.Response,
            -1
        );
        if (needBefore == Need.NotNeeded || decides < 0)
        {
            return decides < 0 ? Need.Given : Need.NotNeeded;
        }

        return _found[decides] switch
        {
            Finding.Given when IsUntried(decides) => Need.MayBeGiven,
            Finding.Given => Points(decides) < rule.Below ? Need.Given : Need.NotNeeded,
            Finding.Absent
            or Finding.Blank when needBefore == Need.MayBeGiven || IsOutsideForm(_slots[decides]) =>
                Need.MayBeGiven,
            _ => Need.Unclear,
        };
    }

    private bool IsUntried(int index) => ((State)_fields[_slots[index].StateField]).IsUntried();

    private Rational Points(int index) =>
        AnswerValue.PointsOf(_slots[index].Response, _fields[_slots[index].ValueField]);

    private enum Need
    {
        /// <summary>The trial belongs to the sitting.</summary>
        Given,

        /// <summary>The trial before was untried: this one may be there or not.</summary>
        MayBeGiven,

        /// <summary>The trial before was good enough.</summary>
        NotNeeded,

        /// <summary>The trial before is itself missing or wrong: nothing can be said of this one yet.</summary>
        Unclear,
    }

    /// <summary>One problem a task, naming every key: a forgotten section reads as a short list.</summary>
    private void ReportMissing()
    {
        foreach (var task in _missing.GroupBy(s => s.Task.Name))
        {
            var keys = task.Select(s => s.Key).ToList();
            var message = keys.Count == 1 ? $"{keys[0]} is missing." : $"{Say.List(keys)} are missing.";
            _problems.Add(_where, keys[0], message, AnswerNames.GiveAnAnswer);
        }
    }
}
