namespace ProtocolKit.TestPrograms;

/// <summary>The header and the few words under which tests, and the reference, set a fragment of a protocol.</summary>
internal static class FragmentPrelude
{
    public const string Ages = "4;0 to 5;11";

    public const string Vocabulary = """
        scale yes-no, higher is better
          1 "yes"
          0 "no"
        scale three, higher is better
          2 "full"
          1 "part"
          0 "none"
        scale even, higher is better
          2 "yes"
          0 "no"
        scale odd, higher is better
          5 "clear"
          2 "rough"
          0 "none"
        family item(s)
          rate s

        """;

    public static string Header(string ages = Ages) =>
        $"protocol tiny\n  title   \"Tiny\"\n  edition 1.0\n  ages    {ages}\n";

    /// <summary>What stands before a fragment of a protocol that has a short form.</summary>
    public static string WithShortForm => Before("", Ages + "\n  short form 5 min");

    /// <summary>The fragment as a whole protocol.</summary>
    public static string Before(string fragment, string ages = Ages) =>
        Header(ages) + Vocabulary.ReplaceLineEndings("\n") + fragment;
}
