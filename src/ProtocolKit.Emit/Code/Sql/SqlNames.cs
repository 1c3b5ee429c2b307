using System.Globalization;
using System.Text;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>
/// Names of columns, no two alike even where capitals don't count. Most stand as they are in the protocol, since
/// they are written in quotes; what is no letter, digit, dot, hyphen or blank becomes a low line, and what is too
/// long for the database is cut.
/// </summary>
internal sealed class SqlNames(int longest)
{
    private readonly HashSet<string> _taken = new(StringComparer.OrdinalIgnoreCase);

    public string Of(string wanted)
    {
        var plain = new StringBuilder(wanted.Length);
        foreach (var c in wanted)
        {
            plain.Append(char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or ' ' ? c : '_');
        }

        var name = plain.Length == 0 ? "_" : plain.ToString();
        var most = Math.Min(longest, 200);
        var unique = name.Length > most ? name[..most] : name;
        for (var i = 2; !_taken.Add(unique); i++)
        {
            var suffix = string.Create(CultureInfo.InvariantCulture, $"_{i}");
            unique = name[..Math.Min(name.Length, most - suffix.Length)] + suffix;
        }

        return unique;
    }
}
