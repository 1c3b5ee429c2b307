using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Unicode;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Paper.Cards;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Sitting;

/// <summary>
/// The protocol as the page's scripts read it: every text, what each task asks, and where in the emitted scoring each value
/// stands. One JSON object; letters that could begin markup are written as escapes.
/// </summary>
internal static class SittingData
{
    private static readonly JsonSerializerOptions Layout = new()
    {
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
    };

    /// <param name="options">A page made for the short form begins with it; the other form stays a press away.</param>
    public static string Write(Protocol protocol, OutputOptions options)
    {
        var pool = new TextPool();
        var tasks = new TaskData(protocol, pool);
        var data = new JsonObject
        {
            ["name"] = protocol.Name,
            ["title"] = Text(protocol.Title),
            ["edition"] = Text(protocol.Edition),
            ["language"] = Text(protocol.Language),
            ["fingerprints"] = new JsonObject
            {
                ["form"] = protocol.Fingerprints.Form,
                ["administration"] = protocol.Fingerprints.Administration,
                ["interpretation"] = protocol.Fingerprints.Interpretation,
            },
            ["ages"] = new JsonObject
            {
                ["from"] = protocol.Ages.From.Months,
                ["to"] = protocol.Ages.To.Months,
                ["words"] = protocol.Ages.ToString(),
            },
            ["correctedUntil"] = protocol.CorrectedUntil?.Months,
            ["form"] = options.ShortForm && protocol.HasShortForm ? RecordKeys.Short : RecordKeys.Full,
            ["shortForm"] = protocol.ShortFormMinutes,
            ["sitting"] = Words.Minutes(protocol.Sitting),
            ["codes"] = Codes(),
            ["sections"] = List(protocol.Sections.Select(s => Section(protocol, s))),
            ["scales"] = Scales(protocol),
            ["tasks"] = List(protocol.Tasks.OrderBy(t => t.Number).Select(tasks.Of)),
            ["giving"] = List(protocol.Program.Giving.Select(Giving)),
            ["help"] = List(protocol.Program.Answers.Where(a => a.IsHelp).Select(HelpSlot)),
            ["history"] = List(protocol.History.Select(q => Question(protocol, q))),
            ["consents"] = List(Consents(protocol)),
            ["events"] = List(protocol.Events.Select(Event)),
            ["materials"] = List(protocol.Materials.Select(m => Pair(m.Text, m.Amount))),
            ["cautions"] = List(Covering(protocol)),
        };
        data["pool"] = pool.Items;
        ResultData.AddTo(data, protocol);
        return data.ToJsonString(Layout);
    }

    /// <summary>A text without what could reorder or break the page around it; nothing stays nothing.</summary>
    public static JsonNode? Text(string? text) => text is null ? null : HtmlContext.Clean(text);

    public static JsonArray List(IEnumerable<JsonNode?> items) => new([.. items]);

    public static JsonArray Texts(IEnumerable<string> texts) => List(texts.Select(Text));

    private static JsonArray Codes() =>
        List(
            States.Untried.Zip(
                UntriedCodes.All,
                (u, view) =>
                    (JsonNode)
                        new JsonObject
                        {
                            ["code"] = u.Code,
                            ["letter"] = view.Letter,
                            ["words"] = u.Words,
                        }
            )
        );

    private static JsonObject Section(Protocol protocol, Section section) =>
        new()
        {
            ["name"] = section.Name,
            ["title"] = Text(section.Title),
            ["text"] = Text(section.Introduction),
            ["rules"] = Texts(GivingWords.OfSection(protocol, section)),
        };

    private static JsonObject Scales(Protocol protocol)
    {
        var scales = new JsonObject();
        foreach (
            var scale in protocol.Tasks.SelectMany(t => t.Responses).Select(r => r.Scale).OfType<Scale>()
        )
        {
            scales[scale.Name] ??= List(
                scale.Levels.Select(l => new JsonObject
                {
                    ["points"] = l.Points.ToString(),
                    ["text"] = Text(l.Text),
                    ["example"] = Text(l.Example),
                })
            );
        }

        return scales;
    }

    private static JsonObject Giving(GivingLines lines) =>
        new()
        {
            ["task"] = lines.Task.Name,
            ["variant"] = lines.Variant.Name,
            ["why"] = lines.WhyLine,
        };

    /// <summary>Where help has a cost: which of its two answers this is, and of which task and side.</summary>
    private static JsonObject HelpSlot(AnswerSlot slot) =>
        new()
        {
            ["key"] = slot.Key,
            ["task"] = slot.Task.Name[..^(HelpLadder.With.Length + 1)],
            ["variant"] = slot.Variant.Name,
            ["response"] = slot.Response.Name,
            ["isRung"] = slot.Trial == 1,
            ["options"] =
                slot.Trial == 1
                    ? List(
                        slot.Response.Options.Select(o => new JsonObject
                        {
                            ["name"] = o.Name,
                            ["text"] = Text(o.Text),
                        })
                    )
                    : null,
        };

    private static JsonObject Question(Protocol protocol, HistoryQuestion question) =>
        new()
        {
            ["name"] = question.Name,
            ["text"] = Text(question.Text),
            ["yesNo"] = question.Kind == HistoryAnswer.YesNo,
            ["needed"] = question.Gates.Count > 0,
            ["gates"] = List(
                question.Gates.Select(g => new JsonObject
                {
                    ["onYes"] = g.OnYes,
                    ["unless"] = g.Unless,
                    ["words"] = Text(GivingWords.OfGate(protocol, question, g)),
                })
            ),
        };

    private static IEnumerable<JsonNode> Consents(Protocol protocol) =>
        protocol.Consents.Select(c => new JsonObject
        {
            ["name"] = c.Name,
            ["title"] = Text(Names.ToTitle(c.Name)),
            ["text"] = Text(c.Text),
        });

    private static JsonObject Event(EventKind kind) =>
        new()
        {
            ["name"] = kind.Name,
            ["text"] = Text(kind.Text),
            ["stops"] = kind.Stops switch
            {
                WelfareStop.Mouth => "mouth",
                WelfareStop.Touch => "touch",
                WelfareStop.Sitting => "sitting",
                _ => "",
            },
            ["stopsWords"] = kind.StopsWords,
        };

    private static JsonArray Pair(string text, string? more) => List([Text(text), Text(more)]);

    /// <summary>Cautions that cover a contact or a thing; those in a duty's place stand with the duties.</summary>
    private static IEnumerable<JsonNode> Covering(Protocol protocol) =>
        protocol
            .Cautions.Where(c => !c.IsGeneral && Duties.All.All(d => d.Name != c.Name))
            .Select(c =>
                Pair(
                    c.Text,
                    string.Join(", ", c.Contacts.Select(Words.Of).Concat(c.Materials.Select(Names.ToWords)))
                )
            );
}
