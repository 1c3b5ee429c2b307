using Scriban;
using Scriban.Runtime;
using Scriban.Syntax;

namespace ProtocolKit.Emit.Templating;

/// <summary>
/// <c>include "folder/name"</c>: fills another template of the same source. What comes back is already
/// written for the target, so it is a <see cref="Raw"/>; Scriban's own include returns a plain string.
/// Further arguments are <c>$1</c>, <c>$2</c> … in the included template.
/// </summary>
internal sealed class IncludeFunction(TemplateSource source) : IScriptCustomFunction
{
    public int RequiredParameterCount => 1;

    public int ParameterCount => 1;

    public ScriptVarParamKind VarParamKind => ScriptVarParamKind.Direct;

    public Type ReturnType => typeof(Raw);

    public ScriptParameterInfo GetParameterInfo(int index) =>
        index == 0
            ? new ScriptParameterInfo(typeof(string), "template")
            : new ScriptParameterInfo(typeof(object), "argument");

    public object Invoke(
        TemplateContext context,
        ScriptNode? callerContext,
        ScriptArray arguments,
        ScriptBlockStatement? blockStatement
    )
    {
        if (arguments.Count == 0 || arguments[0] is not string name)
        {
            throw new TemplateFaultException("include needs the name of a template in quotes.");
        }

        return new Raw(context.RenderTemplate(source.Get(name), arguments, callerContext));
    }

    public ValueTask<object?> InvokeAsync(
        TemplateContext context,
        ScriptNode? callerContext,
        ScriptArray arguments,
        ScriptBlockStatement? blockStatement
    ) => new(Invoke(context, callerContext, arguments, blockStatement));
}
