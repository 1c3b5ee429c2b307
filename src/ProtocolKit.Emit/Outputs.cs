using ProtocolKit.Emit.Code.CSharp;
using ProtocolKit.Emit.Code.Fhir;
using ProtocolKit.Emit.Code.JavaScript;
using ProtocolKit.Emit.Code.Properties;
using ProtocolKit.Emit.Code.Python;
using ProtocolKit.Emit.Code.R;
using ProtocolKit.Emit.Code.Sql;
using ProtocolKit.Emit.Code.Workbook;
using ProtocolKit.Emit.Listing;
using ProtocolKit.Emit.Manual;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Paper.Cards;
using ProtocolKit.Emit.Schema;
using ProtocolKit.Emit.Sitting;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit;

/// <summary>
/// A kind of output. To add one: a class like this, a folder of templates, a line in
/// <see cref="Outputs.All"/>.
/// </summary>
public interface IOutput
{
    /// <summary>As <c>build --only</c> names it, such as <c>record-sheet</c>.</summary>
    string Kind { get; }

    /// <summary>A few words for the list of outputs.</summary>
    string Purpose { get; }

    /// <exception cref="OutputRefusedException">The protocol exceeds what this output can hold.</exception>
    /// <exception cref="TemplateFaultException">A template is at fault.</exception>
    IReadOnlyList<Artefact> Render(Protocol protocol, OutputOptions options, TemplateSource templates);
}

/// <summary>Every output there is, in the order in which they are built and listed.</summary>
public static class Outputs
{
    public static IReadOnlyList<IOutput> All { get; } =
    [
        new RecordSheet(),
        new CueCards(),
        new CaseHistory(),
        new ExaminerManual(),
        new SittingPage(),
        new CSharpOutput(),
        new PropertyTestsOutput(),
        new JavaScriptOutput(),
        new PythonOutput(),
        new ROutput(),
        new SqlOutput(SqlDialect.DuckDb),
        new SqlOutput(SqlDialect.PostgreSql),
        new SqlOutput(SqlDialect.ClickHouse),
        new WorkbookOutput(),
        new FhirOutput(),
        new ProgramListing(),
        new RecordSchema(),
    ];

    public static IOutput? Find(string kind) => All.FirstOrDefault(o => o.Kind == kind);
}

/// <summary>
/// An output can't be made of this protocol. The message says which output, what doesn't fit, and what
/// to shorten or change; other outputs are built all the same.
/// </summary>
public sealed class OutputRefusedException : Exception
{
    public OutputRefusedException() { }

    public OutputRefusedException(string message)
        : base(message) { }

    public OutputRefusedException(string message, Exception inner)
        : base(message, inner) { }
}
