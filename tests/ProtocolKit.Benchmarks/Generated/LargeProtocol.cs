namespace ProtocolKit.Benchmarks.Generated;

/// <summary>
/// A protocol of many invented tasks, of the kinds that real ones mix: postures from families, ratings of their own,
/// counts against the clock with a rate, choices. Every number follows from the task's place, so all runs see one text.
/// </summary>
internal sealed class LargeProtocol
{
    private const int TasksInSection = 50;

    private static readonly string[] Parts = ["chin", "cheek", "lip", "tongue tip", "brow", "nose"];
    private static readonly string[] Moves = ["Lift", "Lower", "Push", "Hold", "Circle", "Press", "Slide"];
    private static readonly string[] Ways =
    [
        "slowly",
        "as far as it goes",
        "in one go",
        "twice",
        "and keep it",
    ];

    private readonly TwinText _text = new();
    private readonly int _tasks;
    private readonly List<(string Name, int Most)> _scores = [];
    private readonly List<string> _rates = [];

    private LargeProtocol(int tasks) => _tasks = tasks;

    public static TwinText Write(int tasks)
    {
        var writer = new LargeProtocol(tasks);
        writer.Header();
        writer.Vocabulary();
        writer.Families();
        writer.Sections();
        writer.Scores();
        writer.CutOffs();
        writer.Actions();
        return writer._text;
    }

    private void Header()
    {
        _text.Line("language 1", "language: 1");
        _text.Line("protocol large-screen", "protocol: large-screen");
        _text.Inside(
            () =>
            {
                _text.Line("title     \"Generated screen\"", "title: \"Generated screen\"");
                _text.Line("edition   1.0", "edition: 1.0");
                _text.Line("ages      4;0 to 11;11", "ages: {from: 4;0, to: 11;11}");
                _text.Line("sitting   30 to 45 min", "sitting: {from: 30 min, to: 45 min}");
                _text.Line("short form 15 min", "short-form: 15 min");
                _text.Line(
                    "purpose   \"Generated to measure speed. Invented; for no child.\"",
                    "purpose: \"Generated to measure speed. Invented; for no child.\""
                );
                _text.Line("examiner  \"Nobody.\"", "examiner: \"Nobody.\"");
            },
            yamlDepth: 0
        );
    }

    private void Vocabulary()
    {
        _text.Line("", "materials:");
        foreach (var name in new[] { "gloves", "mirror", "timer", "ruler" })
        {
            _text.Line(
                $"material {name} \"A clean {name} of ours\", \"1 piece\"",
                $"  {name}: {{text: \"A clean {name} of ours\", amount: \"1 piece\"}}"
            );
        }

        _text.Line("caution clean-hands \"Clean hands and fresh gloves before every touch.\"", "cautions:");
        _text.Inside(() =>
            _text.Line(
                "for contact face, mouth",
                "- {name: clean-hands, text: \"Clean hands and fresh gloves before every touch.\", contacts: [face, mouth]}"
            )
        );
        _text.Line("scale movement, higher is better", "scales:");
        _text.Line("", "  movement:");
        _text.Line("", "    better: higher");
        _text.Line("", "    levels:");
        _text.Inside(
            () =>
            {
                _text.Line("2 \"Full, smooth and centred.\"", "2: \"Full, smooth and centred.\"");
                _text.Line(
                    "1 \"Part of the way, or another part helps.\"",
                    "1: \"Part of the way, or another part helps.\""
                );
                _text.Line(
                    "0 \"Tries, with no movement the asked way.\"",
                    "0: \"Tries, with no movement the asked way.\""
                );
            },
            yamlDepth: 3
        );
        _text.Line("", "observations:");
        foreach (var name in new[] { "overflow", "tremor", "drift", "fatigue", "delay" })
        {
            _text.Line(
                $"observation {name} \"{name} is seen\", qualitative",
                $"  {name}: {{text: \"{name} is seen\", qualitative: true}}"
            );
        }

        _text.Line("", "bands:");
        foreach (var name in new[] { "look-further", "look-again", "as-expected" })
        {
            _text.Line($"band {name} \"{name}\"", $"  {name}: \"{name}\"");
        }
    }

    private void Families()
    {
        _text.Line("", "families:");
        _text.Line("family posture(part, cue = \"Do this with me.\")", "  posture:");
        _text.Line("", "    parameters: {part: required, cue: \"Do this with me.\"}");
        _text.Inside(
            () =>
            {
                _text.Line("contact none", "contact: none");
                _text.Line("needs   mirror", "needs: [mirror]");
                _text.Line("say     \"{cue}\"", "say: [\"{cue}\"]");
                _text.Line(
                    "show    \"Make it once, facing the child.\"",
                    "show: [\"Make it once, facing the child.\"]"
                );
                _text.Line(
                    "trials  up to 2, second when rate below 2, keep highest rate",
                    "trials: {up-to: 2, second-when: {response: rate, below: 2}, keep: highest, by: rate}"
                );
                _text.Line("rate    movement", "rate: movement");
                _text.Line(
                    "help    said again, shown in the mirror, started together",
                    "help: [said again, shown in the mirror, started together]"
                );
                _text.Line("tick    overflow, tremor, drift", "tick: [overflow, tremor, drift]");
                _text.Line("note    \"What held the {part} back\"", "note: \"What held the {part} back\"");
            },
            yamlDepth: 2
        );
    }

    private void Sections()
    {
        _text.Line("", "sections:");
        for (var first = 0; first < _tasks; first += TasksInSection)
        {
            var number = (first / TasksInSection) + 1;
            var last = Math.Min(first + TasksInSection, _tasks);
            _text.Line($"section part-{number} \"Part {number}\"", $"- section: part-{number}");
            _text.Line("", $"  title: \"Part {number}\"");
            _text.Line("", "  tasks:");
            var start = first;
            _text.Inside(() => Tasks(number, start, last));
        }
    }

    private void Tasks(int section, int first, int last)
    {
        var most = 0;
        for (var i = first; i < last; i++)
        {
            most += section % 3 == 0 ? Measured(i) : Rated(i);
        }

        if (most > 0)
        {
            _scores.Add(($"part-{section}", most));
        }
    }

    /// <summary>A rated task; gives the most points its answers can add.</summary>
    private int Rated(int i)
    {
        var part = Parts[i % Parts.Length];
        switch (i % 3)
        {
            case 0:
                _text.Line(
                    $"task {Name(i)} \"{Title(i)}\" posture(\"{part}\", \"{Words(i)}\") short form, each side right, left",
                    $"- {{task: {Name(i)}, title: \"{Title(i)}\", family: posture, arguments: [\"{part}\", \"{Words(i)}\"], short-form: true, each: {{side: [right, left]}}}}"
                );
                return 4;
            case 1:
                _text.Line($"task {Name(i)} \"{Title(i)}\" posture(\"{part}\")", $"- task: {Name(i)}");
                _text.Inside(() =>
                {
                    _text.Line("", $"title: \"{Title(i)}\"");
                    _text.Line("", $"family: posture");
                    _text.Line("", $"arguments: [\"{part}\"]");
                    _text.Line($"say  \"{Words(i)}\"", $"say: [\"{Words(i)}\"]");
                    _text.Line(
                        $"show \"Do it once, {Ways[i % 5]}.\"",
                        $"show: [\"Do it once, {Ways[i % 5]}.\"]"
                    );
                });
                return 2;
            default:
                _text.Line($"task {Name(i)} \"{Title(i)}\"", $"- task: {Name(i)}");
                _text.Inside(() =>
                {
                    _text.Line("", $"title: \"{Title(i)}\"");
                    _text.Line("contact face", "contact: face");
                    _text.Line("needs  gloves, mirror", "needs: [gloves, mirror]");
                    _text.Line($"say    \"{Words(i)}\"", $"say: [\"{Words(i)}\"]");
                    _text.Line(
                        $"show   \"Rest a finger on the {part} first.\"",
                        $"show: [\"Rest a finger on the {part} first.\"]"
                    );
                    _text.Line("trials 2, keep highest rate", "trials: {number: 2, keep: highest, by: rate}");
                    _text.Line("rate   movement", "rate: movement");
                    _text.Line("help   said again, started together", "help: [said again, started together]");
                    _text.Line("tick   overflow, fatigue", "tick: [overflow, fatigue]");
                });
                return 2;
        }
    }

    private int Measured(int i)
    {
        _text.Line($"task {Name(i)} \"{Title(i)}\"", $"- task: {Name(i)}");
        if (i % 2 == 0)
        {
            _text.Inside(() => Timed(i));
            _text.Line($"measure rate-{i} \"Rate {i}\" in taps/s, step 0.1", $"- measure: rate-{i}");
            _text.Inside(() =>
            {
                _text.Line("", $"title: \"Rate {i}\"");
                _text.Line("", "unit: taps/s");
                _text.Line("", "step: 0.1");
                _text.Line(
                    $"= {Name(i)}.taps / {Name(i)}.run",
                    $"value: {{over: {Name(i)}.taps, under: {Name(i)}.run}}"
                );
                _text.Line("hand timing within 0.3 s", "hand-timing: 0.3 s");
            });
            _rates.Add($"rate-{i}");
        }
        else
        {
            _text.Inside(() => Looked(i));
        }

        return 0;
    }

    private void Timed(int i)
    {
        _text.Line("", $"title: \"{Title(i)}\"");
        _text.Line("needs  timer", "needs: [timer]");
        _text.Line($"say    \"{Words(i)}\"", $"say: [\"{Words(i)}\"]");
        _text.Line("go     \"Your raised hand drops.\"", "go: \"Your raised hand drops.\"");
        _text.Line($"trials 3, keep highest rate-{i}", $"trials: {{number: 3, keep: highest, by: rate-{i}}}");
        _text.Line(
            "count  taps 0 to 60, spans intervals",
            "count: {name: taps, from: 0, to: 60, spans: intervals}"
        );
        _text.Line(
            "time   run in s, step 0.1, 0.5 to 15, plausible 1 to 10",
            "time: {name: run, unit: s, step: 0.1, from: 0.5, to: 15, plausible: {from: 1, to: 10}}"
        );
        _text.Line("stop when \"the child asks to stop\"", "stop-when: [\"the child asks to stop\"]");
    }

    private void Looked(int i)
    {
        _text.Line("", $"title: \"{Title(i)}\"");
        _text.Line("needs ruler", "needs: [ruler]");
        _text.Line($"say   \"{Words(i)}\"", $"say: [\"{Words(i)}\"]");
        _text.Line(
            "quantity gap in mm, step 1, 0 to 70, qualitative",
            "quantity: {name: gap, unit: mm, step: 1, from: 0, to: 70, qualitative: true}"
        );
        _text.Line("choice, qualitative", "choice:");
        _text.Inside(() =>
        {
            _text.Line("", "qualitative: true");
            _text.Line("", "options:");
            _text.Line("alike   \"Both sides move alike.\"", "  alike: \"Both sides move alike.\"");
            _text.Line(
                "differs \"One side is later or smaller.\"",
                "  differs: \"One side is later or smaller.\""
            );
        });
    }

    private void Scores()
    {
        _text.Line("", "scores:");
        foreach (var (name, most) in _scores)
        {
            _text.Line($"score {name}-total \"Total of {name}\"", $"- score: {name}-total");
            _text.Inside(() =>
            {
                _text.Line("", $"title: \"Total of {name}\"");
                _text.Line(
                    $"add up rate of every task in {name}",
                    $"add-up: {{response: rate, section: {name}}}"
                );
                _text.Line($"claim range 0 to {most}", $"claim-range: {{from: 0, to: {most}}}");
            });
        }
    }

    private void CutOffs()
    {
        _text.Line("", "cut-offs:");
        foreach (var (name, most) in _scores)
        {
            var (low, middle) = (most / 2, most * 3 / 4);
            Table($"{name}-total", [$"0 to {low}", $"{low + 1} to {middle}", $"{middle + 1} to {most}"]);
        }

        foreach (var rate in _rates)
        {
            Table(rate, ["0 to 2.9", "3 to 3.4", "3.5 to 120"]);
        }
    }

    private void Table(string name, string[] cells)
    {
        _text.Line($"cut-offs {name}", $"- of: {name}");
        _text.Inside(() =>
        {
            _text.Line("ages           look-further  look-again  as-expected", "rows:");
            _text.Line(
                $"4;0 to 11;11   {cells[0]}  {cells[1]}  {cells[2]}",
                $"- {{ages: 4;0 to 11;11, look-further: {cells[0]}, look-again: {cells[1]}, as-expected: {cells[2]}}}"
            );
            _text.Line(
                "basis provisional \"awaiting a pilot\"",
                "basis: {kind: provisional, why: \"awaiting a pilot\"}"
            );
        });
    }

    private void Actions()
    {
        _text.Line("actions", "actions:");
        _text.Inside(
            () =>
            {
                Action(
                    "full-assessment",
                    "Full assessment",
                    "within 2 weeks",
                    "when 2 or more bands are look-further"
                );
                Action(
                    "complete",
                    "Finish the untried parts",
                    "within 4 weeks, finish",
                    "when any band is undecided"
                );
                Action(
                    "screen-again",
                    "Screen again",
                    "within 12 weeks",
                    "when any band is look-again or worse"
                );
                Action("no-action", "No action", "", "when no other action applies");
            },
            yamlDepth: 0
        );
    }

    private void Action(string name, string title, string urgency, string when)
    {
        _text.Line(
            $"{name} \"{title}\" {urgency}".TrimEnd(),
            $"- {{action: {name}, title: \"{title}\", urgency: \"{urgency}\", when: [\"{when}\"]}}"
        );
        _text.Inside(() => _text.Line(when, ""));
    }

    private static string Name(int i) => $"move-{i}";

    private static string Title(int i) => $"{Moves[i % Moves.Length]} the {Parts[i % Parts.Length]} {i}";

    private static string Words(int i) =>
        $"{Moves[i % Moves.Length]} your {Parts[i % Parts.Length]} {Ways[i % Ways.Length]}, like me.";
}
