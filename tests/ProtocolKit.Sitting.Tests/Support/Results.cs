using Microsoft.Playwright;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Sitting.Tests.Support;

/// <summary>The page's scores and the reference's, both as lines of text, to be compared to the digit.</summary>
internal static class Results
{
    public static async Task<SortedSet<string>> OnPageAsync(IPage page)
    {
        var lines = await page.EvaluateAsync<string[]>(
            """
            () => [
              ...[...document.querySelectorAll("[data-outcome]")].map((n) =>
                [n.dataset.outcome, n.dataset.state, n.dataset.low ?? "", n.dataset.high ?? "", n.dataset.band ?? ""].join("|")),
              ...[...document.querySelectorAll("[data-action]")].map((n) => `${n.dataset.action}|${n.dataset.decision}`),
              `headline|${document.querySelector("[data-headline]")?.dataset.headline ?? ""}`,
            ]
            """
        );
        return new(lines, StringComparer.Ordinal);
    }

    /// <summary>What is left out on the short form is compared as little as it is shown.</summary>
    public static SortedSet<string> OfReference(ScoredRecord scored, IReadOnlySet<string> shown)
    {
        var lines = scored
            .Outcomes.Where(o => o.State != State.NotApplicable)
            .Where(o => !scored.Record.IsShortForm || shown.Contains(o.Outcome.Name))
            .Select(o => Outcome(o, scored))
            .Concat(scored.Actions.Select(a => $"{a.Action.Name}|{Words(a.Decision)}"))
            .Append($"headline|{scored.Headline?.Name}");
        return new(lines, StringComparer.Ordinal);
    }

    private static string Outcome(OutcomeResult result, ScoredRecord scored)
    {
        var known = result.State == State.Known;
        var band = scored.Bands.FirstOrDefault(b =>
            b.Table.Outcome.Name == result.Outcome.Name && b.Table.ShortForm == scored.Record.IsShortForm
        );
        return string.Join(
            '|',
            result.Outcome.Name,
            (int)result.State,
            known ? result.Low.ToString() : "",
            known ? result.High.ToString() : "",
            band is null ? "" : Band(band)
        );
    }

    private static string Band(BandResult band) =>
        band.State switch
        {
            BandState.Known => band.Band!.Name,
            BandState.Undecided => "undecided",
            BandState.NotApplicable => "not applicable",
            BandState.Blocked => "blocked",
            _ => "no-band",
        };

    private static string Words(Decision decision) =>
        decision switch
        {
            Decision.Applies => "applies",
            Decision.AppliesNot => "does not apply",
            _ => "undecided",
        };
}
