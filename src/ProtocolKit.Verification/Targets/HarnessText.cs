namespace ProtocolKit.Verification.Targets;

internal static class HarnessText
{
    public static string Of(string name)
    {
        using var stream = typeof(HarnessText).Assembly.GetManifestResourceStream(name)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
