using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>
/// Scoring as a Questionnaire of FHIR R4 with Structured Data Capture. It is made of nodes and not from a template: a text
/// can't leave its node.
/// </summary>
public sealed class FhirOutput : IOutput
{
    /// <summary>FHIRPath's whole numbers have 32 bits.</summary>
    private const long LargestWhole = int.MaxValue;

    public string Kind => "fhir";

    public string Purpose => "scoring code: a FHIR R4 questionnaire that scores itself";

    public static string FileName(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return protocol.Name + ".fhir.json";
    }

    /// <summary>The link id of the item with a column of results.</summary>
    public static string ResultId(ResultColumn column)
    {
        ArgumentNullException.ThrowIfNull(column);
        return FhirResults.IdOf(column);
    }

    /// <summary>The name of the variable of each field, then of each line.</summary>
    public static IReadOnlyList<string> VariableNames(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return FhirQuestionnaire.Of(protocol).Names;
    }

    public IReadOnlyList<Artefact> Render(
        Protocol protocol,
        OutputOptions options,
        TemplateSource templates
    ) => [new Artefact(FileName(protocol), Text(protocol))];

    /// <summary>The questionnaire as JSON, indented by two.</summary>
    /// <exception cref="OutputRefusedException">The program exceeds what FHIRPath can hold.</exception>
    public static string Text(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        CheckLimits(protocol);
        return FhirQuestionnaire.Write(FhirQuestionnaire.Of(protocol).Questionnaire);
    }

    internal static void CheckLimits(Protocol protocol)
    {
        if (ProgramLimits.FirstBeyond(protocol.Program, LargestWhole) is { } line)
        {
            throw new OutputRefusedException(
                $"fhir: {line.Name} may grow beyond 2^31 - 1, the largest whole number of FHIRPath. Use coarser steps or narrower bounds."
            );
        }
    }
}
