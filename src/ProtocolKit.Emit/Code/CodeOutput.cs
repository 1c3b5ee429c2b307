using System.Globalization;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code;

/// <summary>
/// Scoring code in one language: a template and what differs from one language to the next. To add a
/// language: a class like <c>JavaScriptOutput</c>, an <see cref="ExpressionWriter"/>, a template.
/// </summary>
public abstract class CodeOutput : IOutput
{
    public abstract string Kind { get; }

    public abstract string Purpose { get; }

    protected abstract string TemplateName { get; }

    /// <summary>Words that can't name a field or line in this language and in this template.</summary>
    protected abstract IReadOnlyList<string> Reserved { get; }

    /// <summary>The most lines a program may have in this language.</summary>
    protected virtual int MostLines => int.MaxValue;

    /// <exception cref="OutputRefusedException">The program exceeds what the language can hold.</exception>
    public IReadOnlyList<Artefact> Render(
        Protocol protocol,
        OutputOptions options,
        TemplateSource templates
    ) => [new Artefact(FileName(protocol), Text(protocol, templates))];

    /// <summary>The emitted file.</summary>
    /// <exception cref="OutputRefusedException">The program exceeds what the language can hold.</exception>
    /// <exception cref="TemplateFaultException">The template is at fault.</exception>
    public string Text(Protocol protocol, TemplateSource templates)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        CheckLimits(protocol.Program);
        var view = TemplateModel.From(View(protocol));
        return TemplateRenderer.Render(templates, TemplateName, view, new CodeContext());
    }

    public abstract string FileName(Protocol protocol);

    /// <summary>What the template sees.</summary>
    internal virtual object View(Protocol protocol) => CodeViews.Of(protocol, this);

    /// <summary>Characters before a line's name: the indent and the word that declares it.</summary>
    internal abstract int IndentOfLines { get; }

    /// <summary>A fraction as the language's number for people: a double or a decimal.</summary>
    internal abstract Raw Number(Rational value);

    /// <summary>A text as the language's string; nothing in it may end the string.</summary>
    internal virtual Raw Quote(string text) => CodeText.Quote(text);

    internal virtual Raw Truth(bool value) => new(value ? "true" : "false");

    internal virtual Raw Nothing => new("null");

    /// <summary>Whether an expression of several lines stands in brackets, as where a line's end ends a statement.</summary>
    internal virtual bool BracketsLongExpressions => false;

    /// <summary>Made for a machine alone: short names and no comments, so that it takes little room inside another file.</summary>
    internal virtual bool IsCompact => false;

    internal abstract ExpressionWriter Writer(IReadOnlyList<string> fields, IReadOnlyList<string> lines);

    /// <summary>How names of a program are spelt in this language.</summary>
    public CodeNames Names() => new(Reserved);

    private void CheckLimits(ScoringProgram program)
    {
        if (program.Lines.Count > MostLines)
        {
            throw new OutputRefusedException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Kind}: the protocol needs {program.Lines.Count} lines of scoring; this output holds at most {MostLines}. Leave out tasks, trials or scores."
                )
            );
        }

        if (ProgramLimits.FirstBeyond(program, ScoringProgram.Limit) is { } line)
        {
            throw new OutputRefusedException(
                $"{Kind}: {line.Name} may grow beyond 2^53 - 1, the largest whole number this output keeps exact. Use coarser steps or narrower bounds."
            );
        }
    }
}
