using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Three fingerprints: what is said, shown and answered; how it is given; how it is read. Every change of meaning moves
/// the one it belongs to. Layout, comments, the order of statements and how they are spread over modules move none.
/// </summary>
internal static class FingerprintWriter
{
    public static Fingerprints Of(Protocol protocol) =>
        new(
            Digest.Of(d => FormFingerprint.Write(protocol, d)),
            Digest.Of(d => AdministrationFingerprint.Write(protocol, d)),
            Digest.Of(d => InterpretationFingerprint.Write(protocol, d))
        );

    /// <summary>Parts of one list, by a sign no text can hold.</summary>
    public static string Join(IEnumerable<string> parts) => string.Join('\u001f', parts);

    /// <summary>A rule without regard to how its words are spaced.</summary>
    public static string Rule(string written) =>
        string.Join(' ', written.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
}
