using Scriban.Runtime;
using Scriban.Syntax;

namespace ProtocolKit.Emit.Templating;

/// <summary>Fills a template. Every rendering has a context of its own.</summary>
public static class TemplateRenderer
{
    /// <summary>Fills an HTML template.</summary>
    /// <param name="view">A record of this assembly; its properties are the template's variables.</param>
    /// <exception cref="TemplateFaultException">The template is at fault, or a limit was reached.</exception>
    public static string Html(TemplateSource source, string name, object view) =>
        Render(source, name, TemplateModel.From(view), new HtmlContext());

    /// <summary>Fills a template in a context made for its target.</summary>
    /// <exception cref="TemplateFaultException">The template is at fault, or a limit was reached.</exception>
    public static string Render(TemplateSource source, string name, ScriptObject model, StrictContext context)
    {
        var template = source.Get(name);
        context.BuiltinObject.SetValue("include", new IncludeFunction(source), readOnly: true);
        context.PushGlobal(model);
        try
        {
            return template.Render(context);
        }
        catch (ScriptRuntimeException e)
        {
            throw e.InnerException as TemplateFaultException
                ?? new TemplateFaultException(
                    $"{e.Span.FileName ?? name} line {e.Span.Start.Line + 1}: {e.OriginalMessage}",
                    e
                );
        }
    }
}
