using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Keeps names out of records. What was typed under such a key is never repeated in a message:
/// messages end up in logs.
/// </summary>
internal static class NameGuard
{
    public const int LongestCode = 20;

    public const string Message = "A record holds no names: use a case code.";

    public const string CodeMend =
        "A code has at most 20 letters, digits and hyphens, at least one of them a digit, such as C-014.";

    private static readonly HashSet<string> Words = new(StringComparer.Ordinal)
    {
        "address",
        "carer",
        "caregiver",
        "child",
        "children",
        "client",
        "clinician",
        "doctor",
        "email",
        "father",
        "firstname",
        "forename",
        "fullname",
        "guardian",
        "initials",
        "insurance",
        "kindergarten",
        "lastname",
        "mail",
        "middlename",
        "mobile",
        "mother",
        "name",
        "names",
        "nickname",
        "nursery",
        "parent",
        "parents",
        "patient",
        "phone",
        "postcode",
        "pupil",
        "school",
        "ssn",
        "street",
        "student",
        "surname",
        "teacher",
        "tel",
        "telephone",
        "town",
        "zip",
        "zipcode",
    };

    /// <summary>True for keys such as <c>name</c>, <c>child</c>, <c>First_Name</c> or <c>mothers-phone</c>.</summary>
    public static bool LooksLikeName(string key)
    {
        var parts = key.Trim()
            .ToLowerInvariant()
            .Split(['-', '_', ' ', '.', '/'], StringSplitOptions.RemoveEmptyEntries);
        return parts.Length <= 4
            && parts.Any(p => Words.Contains(p) || Words.Contains(p.TrimEnd('s').TrimEnd('\'', '’')));
    }

    /// <summary>Letters and digits of the Latin alphabet and hyphens, at least one digit, at most 20.</summary>
    public static bool IsCode(string text) =>
        text.Length is > 0 and <= LongestCode
        && text[0] != '-'
        && text.All(c => char.IsAsciiLetterOrDigit(c) || c == '-')
        && text.Any(char.IsAsciiDigit);

    public static void Refuse(ProblemList problems, Origin origin, string key) =>
        problems.Add(origin, key, Message, $"Take {Say.Quote(key)} out with what stands under it.");
}
