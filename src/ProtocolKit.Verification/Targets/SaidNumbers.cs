using System.Globalization;

namespace ProtocolKit.Verification.Targets;

/// <summary>
/// Numbers that code said. A whole number written as whole numbers are stands among the values; whatever is written otherwise
/// (a minus zero, a fraction, no number at all) keeps its text, so that nothing is lost or smoothed on the way.
/// </summary>
internal sealed class SaidNumbers
{
    /// <summary>Stands where there is no whole number: no line of a program comes near it.</summary>
    private const long None = long.MinValue;

    private readonly long[] _values;
    private readonly Dictionary<int, string> _others = [];

    private SaidNumbers(long[] values) => _values = values;

    public int Count => _values.Length;

    public static SaidNumbers Of(long[] values) => new(values);

    /// <summary>Reads numbers with commas between them.</summary>
    public static SaidNumbers Read(ReadOnlySpan<char> text)
    {
        var numbers = new SaidNumbers(new long[text.IsEmpty ? 0 : text.Count(',') + 1]);
        for (var i = 0; i < numbers.Count; i++)
        {
            var end = text.IndexOf(',');
            var part = end < 0 ? text : text[..end];
            text = end < 0 ? [] : text[(end + 1)..];
            if (!TryRead(part, out numbers._values[i]))
            {
                (numbers._values[i], numbers._others[i]) = (None, part.ToString());
            }
        }

        return numbers;
    }

    /// <summary>Those at some places, in that order; nothing where there is no such place.</summary>
    public SaidNumbers At(int[] places)
    {
        var taken = new SaidNumbers(new long[places.Length]);
        for (var i = 0; i < places.Length; i++)
        {
            taken._values[i] = places[i] < Count ? _values[places[i]] : None;
            if (_others.Count > 0 && _others.TryGetValue(places[i], out var text))
            {
                taken._others[i] = text;
            }
        }

        return taken;
    }

    /// <summary>The first place with another number than expected, as many as there are; -1 where there is none.</summary>
    public int FirstOtherThan(long[] expected)
    {
        var same = expected.AsSpan().CommonPrefixLength(_values);
        return same == expected.Length ? -1 : same;
    }

    public string Text(int place) =>
        _values[place] != None
            ? _values[place].ToString(CultureInfo.InvariantCulture)
            : _others.GetValueOrDefault(place, "nothing");

    private static bool TryRead(ReadOnlySpan<char> text, out long value)
    {
        value = None;
        var digits = text.StartsWith('-') ? text[1..] : text;
        return !digits.IsEmpty
            && !digits.ContainsAnyExceptInRange('0', '9')
            && (digits[0] != '0' || text.Length == 1)
            && long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out value);
    }
}
