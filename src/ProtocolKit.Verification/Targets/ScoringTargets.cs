using ProtocolKit.Emit.Code;
using ProtocolKit.Emit.Code.CSharp;
using ProtocolKit.Emit.Code.Fhir;
using ProtocolKit.Emit.Code.JavaScript;
using ProtocolKit.Emit.Code.Python;
using ProtocolKit.Emit.Code.R;
using ProtocolKit.Emit.Code.Sql;
using ProtocolKit.Emit.Code.Workbook;
using ProtocolKit.Model;
using ProtocolKit.Verification.Targets.Fhir;
using ProtocolKit.Verification.Targets.Tables;

namespace ProtocolKit.Verification.Targets;

/// <summary>Every target there is, in the order in which they run. To add one: a line in <see cref="All"/>.</summary>
internal static class ScoringTargets
{
    private static readonly IReadOnlyList<(string Name, Func<Maker, IScoringTarget> Make)> All =
    [
        ("csharp", m => new CSharpTarget(m.Code(new CSharpOutput()), CSharpOutput.TypeName(m.Protocol))),
        ("javascript-jint", m => new JintTarget(m.Code(new JavaScriptOutput()), m.Keys)),
        (
            "javascript-node",
            m => ProcessTarget.Node(m.Code(new JavaScriptOutput()), m.Keys, m.Program("node"))
        ),
        ("python", m => ProcessTarget.Python(m.Code(new PythonOutput()), m.Keys, m.Program("python3"))),
        (
            "r",
            m =>
                m.Table(
                    "r",
                    Enumerable.Range(0, m.Places),
                    new REngine(m.Columns, m.Code(new ROutput()), m.Program("Rscript")),
                    NumberForm.Doubles
                )
        ),
        ("sql-duckdb", m => m.Sql(SqlDialect.DuckDb, (q, t) => new DuckDbEngine(m.Columns, q, t))),
        (
            "sql-postgresql",
            m => m.Sql(SqlDialect.PostgreSql, (q, t) => new PostgreSqlEngine(m.Columns, q, t, m.Program))
        ),
        (
            "sql-clickhouse",
            m => m.Sql(SqlDialect.ClickHouse, (q, t) => new ClickHouseEngine(m.Columns, q, t, m.Program))
        ),
        ("workbook", m => m.Workbook()),
        (
            "fhir-firely",
            m => m.Fhir("fhir-firely", q => new FirelyEngine(m.Protocol, q), NumberForm.Decimals)
        ),
        (
            "fhir-npm",
            m =>
                m.Fhir(
                    "fhir-npm",
                    q => new NpmFhirPathEngine(
                        m.Protocol,
                        q,
                        m.Program("node"),
                        m.Options.Programs.GetValueOrDefault("fhirpath", "")
                    ),
                    NumberForm.Doubles
                )
        ),
    ];

    /// <summary>Children in one workbook of verify: starting LibreOffice costs more than a few hundred rows.</summary>
    private const int WorkbookRows = 250;

    public static IReadOnlyList<string> Names { get; } = [.. All.Select(t => t.Name)];

    /// <exception cref="Emit.OutputRefusedException">The target can't hold the protocol.</exception>
    /// <exception cref="Emit.Templating.TemplateFaultException">A template is at fault.</exception>
    public static IScoringTarget Make(string name, Protocol protocol, VerifyOptions options) =>
        All.First(t => t.Name == name).Make(new Maker(protocol, options));

    /// <summary>What a target is made from.</summary>
    private sealed record Maker(Protocol Protocol, VerifyOptions Options)
    {
        public string Code(CodeOutput output) =>
            Options.Code is { } code ? code(output) : output.Text(Protocol, Options.Templates);

        public RecordKeyLists Keys => new(Protocol.Program);

        public IReadOnlyList<string> Columns => ResultColumns.OfRecords(Protocol);

        /// <summary>How many fields and lines there are.</summary>
        public int Places => Protocol.Program.Fields.Count + Protocol.Program.Lines.Count;

        public TableTarget Table(
            string name,
            IEnumerable<int> traceOrder,
            ITableEngine engine,
            NumberForm numbers,
            int most = int.MaxValue
        ) => new(name, Protocol, engine, [.. traceOrder], numbers) { MostRecords = most };

        /// <param name="engine">Made from the emitted query and from the one with a trace.</param>
        public TableTarget Sql(SqlDialect dialect, Func<string, string, ITableEngine> engine)
        {
            var traced = new SqlOutput(dialect, isTraced: true);
            return Table(
                traced.Kind,
                traced.TraceOrder(Protocol),
                engine(Code(new SqlOutput(dialect)), Code(traced)),
                NumberForm.Exact
            );
        }

        public TableTarget Workbook()
        {
            var bytes = new WorkbookOutput(WorkbookRows).Bytes(Protocol);
            var engine = new WorkbookEngine(
                Options.Workbook is { } change ? change(bytes) : bytes,
                WorkbookRows,
                WorkbookOutput.Places(Protocol),
                ResultColumns.Of(Protocol).Count,
                Program("soffice")
            );
            return Table(
                "workbook",
                Enumerable.Range(0, Places),
                engine,
                NumberForm.Doubles,
                Options.MostInWorkbook
            );
        }

        public TableTarget Fhir(string name, Func<string, ITableEngine> engine, NumberForm numbers)
        {
            var text = FhirOutput.Text(Protocol);
            var changed = Options.Questionnaire is { } change ? change(text) : text;
            return Table(name, Enumerable.Range(0, Places), engine(changed), numbers, Options.MostInForms);
        }

        public string Program(string name) => Options.Programs.GetValueOrDefault(name, name);
    }
}
