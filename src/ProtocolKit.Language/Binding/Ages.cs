using System.Globalization;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>Ages as written into months.</summary>
internal static class Ages
{
    public static AgeRange? Bind(AgeSpan span, SourceText source, DiagnosticBag diagnostics)
    {
        var (first, last) = (Bind(span.From, source, diagnostics), Bind(span.To, source, diagnostics));
        if (first is not { } from || last is not { } to)
        {
            return null;
        }

        if (from > to)
        {
            diagnostics.Report(source, span.Place, NumberMessages.Backwards(from.ToString(), to.ToString()));
            return null;
        }

        return new AgeRange(from, to);
    }

    public static Age? Bind(AgeValue value, SourceText source, DiagnosticBag diagnostics)
    {
        var parts = value.Written.Split(';');
        if (
            value.IsAge
            && parts[0].Length <= 3
            && parts[1].Length <= 2
            && int.Parse(parts[0], CultureInfo.InvariantCulture) is <= 99 and var years
            && int.Parse(parts[1], CultureInfo.InvariantCulture) is <= 11 and var months
        )
        {
            return new Age((years * 12) + months);
        }

        diagnostics.Report(source, value.Place, MeaningMessages.Age(value.Written, value.IsAge));
        return null;
    }
}
