using System.Text.Json.Nodes;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Paper.Cards;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Sitting;

/// <summary>One task: the words of its card, and what is answered.</summary>
/// <param name="pool">Blocks of cards, each once, however many cards bear it; a task names them by number.</param>
internal sealed class TaskData(Protocol protocol, TextPool pool)
{
    public JsonObject Of(ProtocolTask task) =>
        new()
        {
            ["name"] = task.Name,
            ["number"] = task.Number,
            ["title"] = SittingData.Text(task.Title),
            ["section"] = task.Section?.Name,
            ["short"] = task.ShortForm,
            ["contact"] = task.Contact switch
            {
                Contact.Face => "face",
                Contact.Mouth => "mouth",
                _ => "",
            },
            ["contactWords"] = Words.Of(task.Contact),
            ["sides"] = task.IsSided,
            ["variants"] = SittingData.List(
                Seen(task)
                    .Select(v => new JsonObject
                    {
                        ["name"] = v.Name,
                        ["label"] = SittingData.Text(Words.Of(task, v)),
                    })
            ),
            ["trials"] = task.Trials.Count,
            ["further"] = task.Trials.FurtherWhen is { } further
                ? new JsonObject { ["response"] = further.Response, ["below"] = further.Below.ToString() }
                : null,
            ["responses"] = SittingData.List(task.Responses.Select(Response)),
            ["ticks"] = SittingData.List(
                task.Ticks.Select(t => pool.Add(SittingData.Texts([t.Observation.Name, t.Observation.Text])))
            ),
            ["help"] = SittingData.List(
                task.HelpRungs()
                    .Zip(
                        TaskViews.Rungs(task).Skip(1),
                        (rung, view) => pool.Add(SittingData.List([rung.Text, SittingData.Text(view.Text)]))
                    )
            ),
            ["note"] = SittingData.Text(task.Note),
            ["front"] = Blocks(CardTexts.Front(task)),
            ["back"] = Blocks(CardTexts.Back(task, protocol)),
        };

    /// <summary>Sides as the examiner sees them, the child's right first; all else in giving order.</summary>
    private static IEnumerable<Variant> Seen(ProtocolTask task) =>
        task.IsSided ? task.Variants.OrderBy(v => Words.IsSide(v, "right") ? 0 : 1) : task.Variants;

    private JsonArray Blocks(IEnumerable<CardBlock> blocks) =>
        SittingData.List(
            blocks.Select(b =>
                pool.Add(
                    SittingData.List([
                        b.Kind switch
                        {
                            CardBlockKind.Say => "say",
                            CardBlockKind.Heading => "heading",
                            CardBlockKind.Item => "item",
                            _ => "line",
                        },
                        SittingData.Text(b.Mark),
                        SittingData.Text(b.Text),
                    ])
                )
            )
        );

    private static JsonObject Response(Response response)
    {
        var data = new JsonObject
        {
            ["name"] = response.Name,
            ["kind"] = response.Kind switch
            {
                ResponseKind.YesNo => "choice",
                var kind => kind.ToString().ToLowerInvariant(),
            },
            ["label"] = SittingData.Text(Label(response)),
        };
        if (response.Scale is { } scale)
        {
            data["scale"] = scale.Name;
        }
        else if (response.HasOptions)
        {
            data["options"] = SittingData.List(Options(response));
        }
        else
        {
            data["low"] = response.Low.ToString();
            data["high"] = response.High.ToString();
            data["step"] = SittingData.List([
                response.Step.Numerator.ToString(),
                response.Step.Denominator.ToString(),
            ]);
            data["unit"] = response.Unit.IsPure ? "" : SittingData.Text(response.Unit.ToString());
            data["spans"] = response.Spans == Spans.Intervals ? "intervals" : null;
            data["plausible"] = response is { PlausibleLow: { } low, PlausibleHigh: { } high }
                ? SittingData.List([low.ToString(), high.ToString()])
                : null;
        }

        return data;
    }

    private static string Label(Response response) =>
        response.Question is { Length: > 0 } question ? question
        : response.IsNumber ? Capital(Words.OfNumber(response))
        : response.Kind == ResponseKind.Rating ? Names.ToTitle(response.Name)
        : response.Kind == ResponseKind.Direction ? "Where it goes: the child’s own side"
        : response.Name is "choice" or "yes-no" ? ""
        : Names.ToTitle(response.Name);

    private static string Capital(string text) =>
        text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>A direction's options as the examiner sees them.</summary>
    private static IEnumerable<JsonNode> Options(Response response)
    {
        var options =
            response.Kind == ResponseKind.Direction
                ? response.Options.OrderBy(o =>
                    o.Name == "right" ? 0
                    : o.Name == "left" ? 2
                    : 1
                )
                : response.Options.AsEnumerable();
        return options.Select(o => new JsonObject
        {
            ["name"] = o.Name,
            ["text"] = SittingData.Text(
                response.Kind == ResponseKind.Direction || o.Text.Length == 0 ? Names.ToTitle(o.Name) : o.Text
            ),
        });
    }
}
