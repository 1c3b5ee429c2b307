namespace ProtocolKit.Emit;

/// <summary>Names of files made from codes.</summary>
internal static class FileNames
{
    /// <summary>Letters, digits, hyphens and points as they are, all else as hyphens: it can't lead out of a folder.</summary>
    public static string Safe(string code)
    {
        var safe = string.Concat(code.Select(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '.' ? c : '-'))
            .Trim('.');
        return safe.Length == 0 ? "record" : safe;
    }
}
