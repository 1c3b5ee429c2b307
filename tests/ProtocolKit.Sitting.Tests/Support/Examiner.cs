using System.Globalization;
using Microsoft.Playwright;
using ProtocolKit.Model;
using ProtocolKit.Testing;

namespace ProtocolKit.Sitting.Tests.Support;

/// <summary>Gives a whole sitting on the page, so that what a record says is entered answer by answer.</summary>
internal sealed class Examiner(Desk desk, Hand hand, Protocol protocol, SittingRecord record)
{
    private readonly ILookup<string, PlainAnswer> _answers = PlainRecord
        .From(protocol, record.Fields)
        .Answers.ToLookup(a => a.Key.Split('.')[0], StringComparer.Ordinal);

    private readonly ILookup<string, PlainObservation> _observations = PlainRecord
        .From(protocol, record.Fields)
        .Observations.ToLookup(o => o.Key.Split('.')[0], StringComparer.Ordinal);

    private IPage Page => desk.Page;

    public async Task GiveAsync()
    {
        await hand.PressAsync(Button("New sitting"));
        await BeforeAsync();
        await hand.PressAsync(Button("Begin with the tasks"));
        var tasks = protocol
            .Tasks.Where(t => !record.IsShortForm || t.ShortForm)
            .OrderBy(t => t.Number)
            .ToList();
        foreach (var task in tasks)
        {
            await Assertions.Expect(Page.Locator("#task-title")).ToContainTextAsync(task.Title);
            await TaskAsync(task);
            await hand.PressAsync(Page.Locator("#next"));
        }
    }

    private async Task BeforeAsync()
    {
        await hand.TypeAsync(Page.GetByLabel("Case code"), record.Case);
        if (record.Rater is { } rater)
        {
            await hand.TypeAsync(Page.GetByLabel("Examiner’s code"), rater.Code);
        }

        if (record.IsShortForm)
        {
            await hand.PressAsync(Page.GetByRole(AriaRole.Radio, new() { NameRegex = new("^Short form") }));
        }

        await hand.TypeAsync(Page.GetByLabel("Age in years;months"), record.Age.ToString());
        foreach (var consent in protocol.Consents.Where(c => record.Consents.ContainsKey(c.Name)))
        {
            var group = Page.GetByRole(
                AriaRole.Group,
                new() { Name = Names.ToTitle(consent.Name), Exact = true }
            );
            await hand.PressAsync(
                group.Locator(record.Consents[consent.Name] ? "[value=yes]" : "[value=no]")
            );
        }

        foreach (var question in protocol.History.Where(q => record.History.ContainsKey(q.Name)))
        {
            var answer = record.History[question.Name];
            if (question.Kind == HistoryAnswer.YesNo)
            {
                var group = Page.GetByRole(AriaRole.Group, new() { Name = question.Text, Exact = true });
                await hand.PressAsync(group.Locator($"[value={answer}]"));
            }
            else
            {
                await hand.TypeAsync(Page.GetByLabel(question.Text, new() { Exact = true }), answer);
            }
        }
    }

    private async Task TaskAsync(ProtocolTask task)
    {
        foreach (var answer in _answers[task.Name])
        {
            await AnswerAsync(answer);
        }

        foreach (var (key, rung) in record.Help.Where(h => IsOf(h.Key, task)))
        {
            await HelpAsync(task, key, rung);
        }

        foreach (var observation in _observations[task.Name])
        {
            await ObservationAsync(task, observation);
        }

        foreach (var happened in record.Events.Where(e => e.Task == task.Name))
        {
            await EventAsync(happened);
        }

        if (record.Notes.TryGetValue(task.Name, out var note))
        {
            await hand.TypeAsync(Page.Locator("#screen textarea").Last, note);
        }
    }

    private async Task AnswerAsync(PlainAnswer answer)
    {
        var box = desk.Response(answer.Key);
        if (States.Untried.Any(u => u.Code == answer.Word))
        {
            var select = box.Locator("select.not-tried");
            if (await select.InputValueAsync() != answer.Word)
            {
                await hand.SelectAsync(select, answer.Word!);
            }
        }
        else if (await box.Locator("input.number").CountAsync() > 0)
        {
            await hand.TypeAsync(box.Locator("input.number"), answer.Text);
        }
        else
        {
            await hand.PressAsync(box.Locator($"input[value=\"{answer.Text}\"]"));
        }
    }

    private async Task HelpAsync(ProtocolTask task, string key, string rung)
    {
        var part = Part(task, key.Split('.').ElementAtOrDefault(1));
        await hand.SelectAsync(part.Locator(".help select"), rung);
        foreach (var (of, came) in record.Aided.Where(a => IsOf(a.Key, task)))
        {
            if (key.Split('.').Skip(1).SequenceEqual(of.Split('.').Skip(2)))
            {
                await hand.PressAsync(part.Locator($".help input[value=\"{came}\"]"));
            }
        }
    }

    private async Task ObservationAsync(ProtocolTask task, PlainObservation observation)
    {
        var names = observation.Key.Split('.');
        var text = task.Ticks.First(t => t.Observation.Name == names[1]).Observation.Text;
        var group = Part(task, names.ElementAtOrDefault(2))
            .GetByRole(AriaRole.Group, new() { Name = text, Exact = true });
        await hand.PressAsync(group.Locator($"[value={observation.Text}]"));
    }

    private async Task EventAsync(SittingEvent happened)
    {
        await hand.PressAsync(Page.Locator("#stop"));
        var kind = protocol.Events.First(e => e.Name == happened.What);
        await hand.PressAsync(Page.GetByRole(AriaRole.Radio, new() { Name = kind.Text }));
        await hand.TypeAsync(Page.GetByLabel("What touched, and where"), happened.Touched!);
        await hand.TypeAsync(
            Page.GetByLabel("How the child recovered, and after how long"),
            happened.Recovered!
        );
        await hand.TypeAsync(Page.GetByLabel("What you did then"), happened.Done!);
        await hand.PressAsync(Button("Go on with what is not stopped"));
    }

    /// <summary>A side's column, or the whole task where it has none.</summary>
    private ILocator Part(ProtocolTask task, string? side)
    {
        var index =
            task.IsSided && side == "left" ? 1 : task.Variants.ToList().FindIndex(v => v.Name == side);
        return Page.Locator(".part").Nth(task.IsSided ? index : Math.Max(0, index));
    }

    private ILocator Button(string name) =>
        Page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

    private static bool IsOf(string key, ProtocolTask task) =>
        key == task.Name || key.StartsWith(task.Name + ".", StringComparison.Ordinal);
}
