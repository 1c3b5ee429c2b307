using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says the band of a value, never without what its cut-offs rest on.</summary>
internal static class BandSentences
{
    /// <summary>To follow the value in its sentence; empty where there are no cut-offs for it.</summary>
    public static string Of(OutcomeResult result, BandResult? band, Age age)
    {
        if (band is null)
        {
            return "";
        }

        if (band.Row is null)
        {
            return $"; there are no cut-offs at {age}";
        }

        var basis = $" ({Basis(band.Table, band.Row)})";
        return band.State switch
        {
            BandState.Known when result.IsExact => $", {Name(band.Band!)}{basis}",
            BandState.Known => $": {Name(band.Band!)} either way{basis}",
            BandState.Undecided => $": {Between(result, band)}{basis}",
            BandState.Blocked => ", so no band",
            BandState.NotApplicable when result.State == State.Known =>
                "; no band, since tasks were left out and the cut-offs are made for all of them",
            BandState.NoBand => $", which falls in no band{basis}: please tell the protocol's authors",
            _ => "",
        };
    }

    public static string Name(Band band) => Say.Inside(band.Text);

    /// <summary><c>cut-offs for 4;0 to 5;11, provisional, misses 4 of 49, false alarms 9 of 131</c>.</summary>
    public static string Basis(CutOffTable table, CutOffRow row)
    {
        var basis = table.Basis;
        var children = basis.Children is { } n ? $" of {Say.Count(n, "child", "children")}" : "";
        var rests = basis.Kind switch
        {
            BasisKind.Published => $"published: {basis.Text}",
            BasisKind.Pilot => $"own pilot{children}",
            _ => "",
        };
        var provisional = basis.IsProvisional ? "provisional" : "";
        var misses = basis.Misses is { } missed ? $"misses {missed}" : "";
        var alarms = basis.FalseAlarms is { } alarmed ? $"false alarms {alarmed}" : "";
        var words = new[] { $"cut-offs for {row.Ages}", provisional, rests, misses, alarms }.Where(w =>
            w.Length > 0
        );
        return string.Join(", ", words);
    }

    private static string Between(OutcomeResult result, BandResult band)
    {
        var possible = Possible(result, band).Select(Name).ToList();
        return possible.Count switch
        {
            2 => $"undecided between {possible[0]} and {possible[1]}",
            > 2 => $"undecided, it could be {Say.List(possible, "or")}",
            _ => "undecided",
        };
    }

    /// <summary>The bands that values between the ends fall into, from the worst to the best.</summary>
    private static IEnumerable<Band> Possible(OutcomeResult result, BandResult band)
    {
        for (var i = 0; i < band.Table.Bands.Count; i++)
        {
            if (band.Row!.Cells[i] is { } cell && cell.From <= result.High && result.Low <= cell.To)
            {
                yield return band.Table.Bands[i];
            }
        }
    }
}
