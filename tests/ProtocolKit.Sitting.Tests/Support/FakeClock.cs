using Microsoft.Playwright;

namespace ProtocolKit.Sitting.Tests.Support;

/// <summary>Both clocks of a page in the test's hands: they stand until they are moved.</summary>
internal static class FakeClock
{
    public const string Script = """
        globalThis.fake = { mono: 5000, wall: Date.parse("2026-03-04T10:00:00Z") };
        performance.now = () => fake.mono;
        Date.now = () => fake.wall;
        Object.defineProperty(Event.prototype, "timeStamp", { get: () => fake.mono });
        """;

    /// <summary>Time passes as it does.</summary>
    public static Task PassAsync(this IPage page, int ms) => page.MoveAsync(ms, ms);

    /// <summary>Each clock by itself.</summary>
    public static Task MoveAsync(this IPage page, int mono, int wall) =>
        page.EvaluateAsync("by => { fake.mono += by[0]; fake.wall += by[1]; }", new[] { mono, wall });
}
