using System.Globalization;

namespace ProtocolKit.Model;

/// <summary>How names of the language are shown to people.</summary>
public static class Names
{
    /// <summary><c>tip-nose</c> becomes <c>Tip nose</c>: the title of a thing its author gave none.</summary>
    public static string ToTitle(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var words = ToWords(name);
        return words.Length == 0 ? words : char.ToUpper(words[0], CultureInfo.InvariantCulture) + words[1..];
    }

    /// <summary><c>look-further</c> becomes <c>look further</c>.</summary>
    public static string ToWords(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return name.Replace('-', ' ');
    }
}
