using System.Reflection;

namespace ProtocolKit.Language.Diagnostics;

/// <summary>All entries of all stages, in the order of their codes.</summary>
public static class Catalogue
{
    private static readonly Lazy<IReadOnlyList<Descriptor>> Entries = new(() =>
        [
            .. new[]
            {
                typeof(TextMessages),
                typeof(LineMessages),
                typeof(NameMessages),
                typeof(MeaningMessages),
                typeof(NumberMessages),
                typeof(ScoreMessages),
                typeof(RoutingMessages),
                typeof(CareMessages),
                typeof(ReportMessages),
                typeof(TranslationMessages),
                typeof(ProofMessages),
            }
                .SelectMany(t => t.GetFields(BindingFlags.Static | BindingFlags.NonPublic))
                .Select(f => f.GetValue(null))
                .OfType<Descriptor>()
                .OrderBy(d => d.Code, StringComparer.Ordinal),
        ]
    );

    public static IReadOnlyList<Descriptor> All => Entries.Value;

    /// <summary>The entry of a code in any case, or null.</summary>
    public static Descriptor? Find(string code) =>
        All.FirstOrDefault(d => string.Equals(d.Code, code, StringComparison.OrdinalIgnoreCase));
}
