using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Catalogue;

/// <summary>What a finding offers to change mends it, and breaks nothing.</summary>
public sealed class QuickEditTests
{
    public static TheoryData<string> Cases => [.. CorpusCase.All.Select(c => c.Name)];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Each_edit_removes_its_finding_and_adds_none(string name)
    {
        var corpus = CorpusCase.Of(name);
        var before = corpus.Compile();
        foreach (var diagnostic in before.Diagnostics.Where(d => d.Edit is not null))
        {
            var after = corpus.With(diagnostic.Source, diagnostic.Edit!.Apply(diagnostic.Source)).Compile();
            var left = Counted(after).ToDictionary(c => c.Key, c => c.Value);
            var had = Counted(before).ToDictionary(c => c.Key, c => c.Value);
            var said = DiagnosticText.Render(diagnostic) + "\n---\n" + Tiny.Rendered(after);
            Assert.True(left.GetValueOrDefault(diagnostic.Code) < had[diagnostic.Code], said);
            Assert.All(left, c => Assert.True(c.Value <= had.GetValueOrDefault(c.Key), said));
        }
    }

    [Fact]
    public void Many_findings_offer_an_edit() =>
        Assert.InRange(
            CorpusCase
                .All.SelectMany(c => c.Compile().Diagnostics)
                .Where(d => d.Edit is not null)
                .Select(d => d.Code)
                .Distinct()
                .Count(),
            15,
            int.MaxValue
        );

    /// <summary>Errors by code. What only warns may well come to light once the error is gone.</summary>
    private static IEnumerable<KeyValuePair<string, int>> Counted(Compilation compilation) =>
        compilation
            .Diagnostics.Where(d => d.Severity == Severity.Error)
            .GroupBy(d => d.Code)
            .Select(g => KeyValuePair.Create(g.Key, g.Count()));
}
