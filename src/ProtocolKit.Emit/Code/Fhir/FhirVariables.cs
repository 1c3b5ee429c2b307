using System.Text;
using System.Text.Json.Nodes;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>
/// The scoring program as variables of the questionnaire, in the order in which each reads only earlier ones. An engine reads a
/// variable at once, where an item would have to be searched for.
/// Source: FHIR R4 extension variable, http://hl7.org/fhir/StructureDefinition/variable.
/// </summary>
internal sealed class FhirVariables(JsonObject questionnaire)
{
    /// <summary>A name of FHIR's type <c>id</c>.</summary>
    private const int LongestName = 64;

    /// <summary>Words of FHIRPath's grammar and names its engines and form fillers give to things of their own.</summary>
    private static readonly HashSet<string> Taken = new(
        (
            "and or xor implies div mod is as in contains true false day days month months year years week weeks hour hours minute "
            + "minutes second seconds millisecond milliseconds resource rootResource context ucum sct loinc questionnaire qitem patient "
            + "user encounter factory terminologies"
        ).Split(' '),
        StringComparer.Ordinal
    );

    private readonly HashSet<string> _names = new(Taken, StringComparer.Ordinal);

    /// <summary>Adds a variable and tells how it is read.</summary>
    /// <param name="wanted">What it should be called; its name keeps the letters and digits.</param>
    /// <param name="about">Its limits and what it means.</param>
    public string Add(string wanted, string about, string expression)
    {
        var name = Free(wanted);
        questionnaire.With(
            FhirItems.Extension(
                FhirItems.Core + "variable",
                "Expression",
                new JsonObject
                {
                    ["name"] = name,
                    ["description"] = FhirText.Of($"{wanted}: {about}"),
                    ["language"] = "text/fhirpath",
                    ["expression"] = expression,
                }
            )
        );
        return "%" + name;
    }

    private string Free(string wanted)
    {
        var name = Joined(wanted);
        var free = name;
        for (var i = 2; !_names.Add(free); i++)
        {
            var number = FormattableString.Invariant($"N{i}");
            free = name[..Math.Min(name.Length, LongestName - number.Length)] + number;
        }

        return free;
    }

    /// <summary>Words joined with capitals: <c>tongue-total.low</c> becomes <c>tongueTotalLow</c>.</summary>
    private static string Joined(string wanted)
    {
        var name = new StringBuilder();
        var isStart = false;
        foreach (var c in wanted)
        {
            if (!char.IsAsciiLetterOrDigit(c))
            {
                isStart = name.Length > 0;
            }
            else if (name.Length < LongestName)
            {
                name.Append(isStart ? char.ToUpperInvariant(c) : c);
                isStart = false;
            }
        }

        return name.Length == 0 || char.IsAsciiDigit(name[0])
            ? "line" + name.ToString()[..Math.Min(name.Length, LongestName - 4)]
            : name.ToString();
    }
}
