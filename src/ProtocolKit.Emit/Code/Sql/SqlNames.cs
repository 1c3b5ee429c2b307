using System.Globalization;
using System.Text;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>
/// Names of columns, no two alike even where capitals don't count. Most stand as they are in the protocol, since
/// they are written in quotes; what is no letter, digit, dot, hyphen or blank becomes a low line, and what is too
/// long for the database is cut.
/// </summary>
/// <param name="results">
/// Names of results that no other column may have, where a database takes such a name for the result even in the
/// expression beside it.
/// </param>
internal sealed class SqlNames(int longest, IEnumerable<string>? results = null)
{
    private readonly HashSet<string> _results = (results ?? []).ToHashSet(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> _taken = new(StringComparer.OrdinalIgnoreCase);

    public string Of(string wanted)
    {
        var plain = new StringBuilder(wanted.Length);
        foreach (var c in wanted)
        {
            plain.Append(char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or ' ' ? c : '_');
        }

        var name = plain.Length == 0 ? "_" : plain.ToString();
        name = _results.Contains(name) ? name + " line" : name;
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
