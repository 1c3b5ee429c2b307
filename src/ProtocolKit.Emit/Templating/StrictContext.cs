using System.Globalization;
using Scriban;
using Scriban.Parsing;
using Scriban.Runtime;

namespace ProtocolKit.Emit.Templating;

/// <summary>
/// What every target's context has in common: unknown names are errors, limits throw instead of cutting
/// text off, nothing depends on culture, clock or chance, and each value passes <see cref="Literal"/> on
/// its way out unless it is a <see cref="Raw"/>.
/// </summary>
public abstract class StrictContext : TemplateContext
{
    /// <summary>In characters; far above any real output, far below what would exhaust a machine.</summary>
    public const int DefaultOutputLimit = 64 * 1024 * 1024;

    /// <summary>Scriban counts the steps of all loops of one rendering together.</summary>
    public const int DefaultLoopLimit = 20_000_000;

    protected StrictContext()
        : base(Builtins())
    {
        StrictVariables = true;
        EnableRelaxedMemberAccess = false;
        EnableRelaxedTargetAccess = false;
        EnableRelaxedFunctionAccess = false;
        EnableRelaxedIndexerAccess = false;
        EnableNullIndexer = false;
        AutoIndent = false;
        NewLine = "\n";
        LoopLimit = DefaultLoopLimit;
        LoopLimitQueryable = DefaultLoopLimit;
        OutputLimit = DefaultOutputLimit;
        LimitToString = DefaultOutputLimit;
        OnOutputLimit = ScriptLimitBehavior.Throw;
        OnStringLimit = ScriptLimitBehavior.Throw;
        RecursiveLimit = 50;
        PushCulture(CultureInfo.InvariantCulture);
    }

    /// <summary>
    /// The text of a value as the target must read it. A context whose target has no single escaping (code)
    /// throws a <see cref="TemplateFaultException"/> here, so that templates must call a literal writer.
    /// </summary>
    protected abstract string Literal(string text);

    public override TemplateContext Write(SourceSpan span, object? textAsObject) =>
        textAsObject switch
        {
            null => this,
            Raw raw => base.Write(span, raw.Text),
            _ => base.Write(span, Literal(ObjectToString(textAsObject) ?? "")),
        };

    /// <summary>Only what templates here need; nothing that evaluates text, tells time or throws dice.</summary>
    private static ScriptObject Builtins()
    {
        var all = TemplateContext.GetDefaultBuiltinObject();
        Keep(all, "array", "string", "math", "object");
        Drop(all.GetSafeValue<ScriptObject>("math")!, "random", "uuid");
        Drop(all.GetSafeValue<ScriptObject>("object")!, "eval", "eval_template", "from_json", "to_json");
        return all;
    }

    private static void Keep(ScriptObject scope, params string[] names)
    {
        foreach (var name in scope.Keys.Except(names).ToList())
        {
            scope.Remove(name);
        }
    }

    private static void Drop(ScriptObject scope, params string[] names)
    {
        foreach (var name in names)
        {
            scope.Remove(name);
        }
    }
}
