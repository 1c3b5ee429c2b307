using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>Answers and signs by their names. What an edited task changes of them can be undone.</summary>
internal sealed class AnswerIndex(int answers, int signs)
{
    private readonly Dictionary<(string Task, string Response, string Variant), AnswerGroup> _groups = new(
        answers
    );
    private readonly Dictionary<string, AnswerGroup> _byKey = new(answers, StringComparer.Ordinal);
    private readonly Dictionary<(string Task, string Sign, string Variant), FieldValue> _signs = new(signs);

    public void Add(AnswerGroup group)
    {
        _groups.TryAdd((group.Task.Name, group.Response.Name, group.Variant.Name), group);
        _byKey.TryAdd(group.Key, group);
    }

    public void Add(ProtocolTask task, Observation sign, Variant variant, FieldValue field) =>
        _signs.TryAdd((task.Name, sign.Name, variant.Name), field);

    public AnswerGroup? Find(string task, string response, string variant) =>
        _groups.GetValueOrDefault((task, response, variant));

    /// <summary>By <c>task.response[.side]</c>.</summary>
    public AnswerGroup Of(string key) => _byKey[key];

    /// <summary>The same, or null.</summary>
    public AnswerGroup? FindKey(string key) => _byKey.GetValueOrDefault(key);

    public FieldValue? FindObservation(string task, string observation, string variant) =>
        _signs.GetValueOrDefault((task, observation, variant));

    /// <summary>Keys of a task's answers, a side after the other.</summary>
    public static IEnumerable<string> KeysOf(ProtocolTask task) => KeysOf(task, _ => true);

    public static IEnumerable<string> KeysOf(ProtocolTask task, Func<Response, bool> which) =>
        task.Variants.SelectMany(v => task.Responses.Where(which).Select(r => AnswerGroup.KeyOf(task, r, v)));

    /// <summary>The fields that are named after a task.</summary>
    public IEnumerable<int> FieldsOf(ProtocolTask task) =>
        KeysOf(task)
            .SelectMany(k => _byKey[k].Trials)
            .SelectMany(t => (int[])[t.Value.Field, t.State.Field])
            .Concat(SignsOf(task).Select(s => _signs[s].Field));

    private static IEnumerable<(string Task, string Sign, string Variant)> SignsOf(ProtocolTask task) =>
        task.Variants.SelectMany(v => task.Ticks.Select(t => (task.Name, t.Observation.Name, v.Name)));

    /// <summary>A task under another name, its fields and what is known of them the same; help with a cost is not asked for.</summary>
    public void Rename(string old, ProtocolTask anew, Undo undo)
    {
        var task = anew with { Name = old };
        foreach (var (key, then) in KeysOf(task).Zip(KeysOf(anew)))
        {
            var group = _byKey[key];
            var response = anew.Responses.First(r => r.Name == group.Response.Name);
            var variant = anew.Variants.First(v => v.Name == group.Variant.Name);
            Rekey(_byKey, key, then, group.As(anew, response, variant), undo);
            Rekey(
                _groups,
                (old, response.Name, variant.Name),
                (anew.Name, response.Name, variant.Name),
                _byKey[then],
                undo
            );
        }

        foreach (var (sign, then) in SignsOf(task).Zip(SignsOf(anew)))
        {
            Rekey(_signs, sign, then, _signs[sign], undo);
        }
    }

    /// <summary>A task whose answers have other limits, steps or options, in the same fields.</summary>
    /// <returns>The answers as they are now.</returns>
    public IReadOnlyList<AnswerGroup> Reshape(ProtocolTask anew, Undo undo)
    {
        List<AnswerGroup> groups = [];
        foreach (var variant in anew.Variants)
        {
            foreach (var response in anew.Responses)
            {
                var key = AnswerGroup.KeyOf(anew, response, variant);
                var group = _byKey[key].As(anew, response, variant);
                var (low, high) = Encoding.Bounds(response);
                for (var i = 0; i < group.Trials.Length; i++)
                {
                    var trial = group.Trials[i];
                    group.Trials[i] = trial with { Value = new FieldValue(trial.Value.Field, low, high) };
                }

                Rekey(_byKey, key, key, group, undo);
                var parts = (anew.Name, response.Name, variant.Name);
                Rekey(_groups, parts, parts, group, undo);
                groups.Add(group);
            }
        }

        return groups;
    }

    /// <summary>
    /// A task's answers and signs taken out, and those of another reading put in, in fields that no record has: for what rules say
    /// of them, and to be undone.
    /// </summary>
    /// <param name="field">The first of those fields.</param>
    public void Exchange(ProtocolTask old, ProtocolTask? anew, int field, Undo undo)
    {
        foreach (var (variant, response) in Answers(old))
        {
            Take(_groups, (old.Name, response.Name, variant.Name), undo);
            Take(_byKey, AnswerGroup.KeyOf(old, response, variant), undo);
        }

        foreach (var sign in SignsOf(old))
        {
            Take(_signs, sign, undo);
        }

        if (anew is not null)
        {
            Put(anew, field, undo);
        }
    }

    private void Put(ProtocolTask anew, int field, Undo undo)
    {
        foreach (var (variant, response) in Answers(anew))
        {
            var group = new AnswerGroup(anew, response, variant);
            var (low, high) = Encoding.Bounds(response);
            for (var i = 0; i < group.Trials.Length; i++)
            {
                group.Trials[i] = new TrialAnswer(
                    new FieldValue(field++, low, high),
                    new FieldValue(field++, 0, (long)State.Stopped)
                );
            }

            Put(_groups, (anew.Name, response.Name, variant.Name), group, undo);
            Put(_byKey, group.Key, group, undo);
        }

        foreach (var sign in SignsOf(anew))
        {
            Put(_signs, sign, new FieldValue(field++, 0, 2), undo);
        }
    }

    private static IEnumerable<(Variant, Response)> Answers(ProtocolTask task) =>
        task.Variants.SelectMany(v => task.Responses.Select(r => (v, r)));

    private static void Take<TKey, T>(Dictionary<TKey, T> all, TKey key, Undo undo)
        where TKey : notnull
    {
        if (all.Remove(key, out var before))
        {
            undo.Add(() => all[key] = before);
        }
    }

    private static void Put<TKey, T>(Dictionary<TKey, T> all, TKey key, T value, Undo undo)
        where TKey : notnull
    {
        if (all.TryAdd(key, value))
        {
            undo.Add(() => all.Remove(key));
        }
    }

    private static void Rekey<TKey, T>(Dictionary<TKey, T> all, TKey old, TKey anew, T value, Undo undo)
        where TKey : notnull
    {
        var before = all[old];
        all.Remove(old);
        all.Add(anew, value);
        undo.Add(() =>
        {
            all.Remove(anew);
            all.Add(old, before);
        });
    }
}
