using System.Collections.Frozen;
using System.Globalization;
using System.Text;

namespace ProtocolKit.Emit.Code;

/// <summary>
/// Names of a program as names in code, no two alike. A hyphen becomes <c>_</c> and a dot <c>__</c>, which is
/// enough for names made of words joined by single hyphens and dots. Any other name begins with <c>n___</c>,
/// which those never hold, and spells every character that is no letter or digit as <c>___</c> and four digits.
/// A word the target keeps for itself gets a <c>_</c> at its end, where those never have one.
/// </summary>
public sealed class CodeNames(IEnumerable<string> reserved)
{
    private readonly FrozenSet<string> _reserved = reserved.ToFrozenSet(StringComparer.Ordinal);

    public string Of(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var code = IsPlain(name)
            ? name.Replace(".", "__", StringComparison.Ordinal).Replace('-', '_')
            : Spelt(name);
        return _reserved.Contains(code) ? code + "_" : code;
    }

    /// <summary>A name in capitals without joints, for a type: <c>quillmere-screen</c> becomes <c>QuillmereScreen</c>.</summary>
    public static string OfType(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var code = new StringBuilder();
        foreach (var word in name.Split('-', '.', ' ', '_'))
        {
            var letters = string.Concat(word.Where(char.IsAsciiLetterOrDigit));
            code.Append(letters.Length == 0 ? "" : char.ToUpperInvariant(letters[0]) + letters[1..]);
        }

        return code.Length == 0 || char.IsAsciiDigit(code[0]) ? "Protocol" + code : code.ToString();
    }

    private static bool IsPlain(string name)
    {
        var afterJoint = true;
        for (var i = 0; i < name.Length; i++)
        {
            var isJoint = name[i] is '-' or '.';
            if ((isJoint && afterJoint) || (!isJoint && !char.IsAsciiLetterOrDigit(name[i])))
            {
                return false;
            }

            afterJoint = isJoint;
        }

        return !afterJoint && char.IsAsciiLetter(name[0]);
    }

    private static string Spelt(string name)
    {
        var code = new StringBuilder("n___");
        foreach (var c in name)
        {
            if (char.IsAsciiLetterOrDigit(c))
            {
                code.Append(c);
            }
            else
            {
                code.Append(CultureInfo.InvariantCulture, $"___{(int)c:x4}");
            }
        }

        return code.ToString();
    }
}
