using System.Globalization;
using System.Reflection;
using Jint;
using Jint.Native;
using Microsoft.CodeAnalysis.CSharp.Scripting;
using Microsoft.CodeAnalysis.Scripting;
using ProtocolKit.Emit.Code.CSharp;
using ProtocolKit.Emit.Code.JavaScript;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Verification.Tests;

/// <summary>Emitted code as someone else would use it, apart from the engine under test.</summary>
internal sealed class EmittedCode : IDisposable
{
    private readonly Engine _engine = new();
    private readonly Jint.Native.Object.ObjectInstance _module;
    private readonly Type _type;

    public EmittedCode(Protocol protocol)
    {
        JavaScript = new JavaScriptOutput().Text(protocol, TemplateSource.BuiltIn);
        _engine.Modules.Add("scoring", JavaScript);
        _module = _engine.Modules.Import("scoring");
        CSharp = new CSharpOutput().Text(protocol, TemplateSource.BuiltIn);
        var options = ScriptOptions.Default.WithReferences(
            typeof(object).Assembly,
            typeof(Enumerable).Assembly,
            typeof(HashSet<>).Assembly
        );
        _type = CSharpScript
            .EvaluateAsync<Type>($"{CSharp}\nreturn typeof({CSharpOutput.TypeName(protocol)});", options)
            .GetAwaiter()
            .GetResult();
    }

    public void Dispose() => _engine.Dispose();

    public string JavaScript { get; }

    public string CSharp { get; }

    public string AboutTitle => _module.Get("about").Get("title").AsString();

    public string CSharpTitle => (string)_type.GetField("Title")!.GetValue(null)!;

    /// <summary>The errors the JavaScript lists for a record written as JavaScript; all else must be empty.</summary>
    public IReadOnlyList<string> JavaScriptErrors(string record)
    {
        var result = _engine.Invoke(_module.Get("score"), _engine.Evaluate($"({record})")).AsObject();
        var errors = result.Get("errors").AsArray().Select(e => e.AsString()).ToList();
        if (errors.Count > 0)
        {
            Assert.Empty(result.Get("scores").AsObject().GetOwnProperties());
            Assert.Empty(result.Get("bands").AsObject().GetOwnProperties());
            Assert.Empty(result.Get("actions").AsObject().GetOwnProperties());
            Assert.Equal(JsValue.Null, result.Get("headline"));
        }

        return errors;
    }

    public IReadOnlyList<string> CSharpErrors(
        int age,
        string? form,
        Dictionary<string, object?> answers,
        Dictionary<string, string?> observations
    )
    {
        var recordType = _type.GetNestedType("Record")!;
        var record = Activator.CreateInstance(recordType)!;
        recordType.GetProperty("AgeMonths")!.SetValue(record, age);
        recordType.GetProperty("Form")!.SetValue(record, form);
        recordType.GetProperty("Answers")!.SetValue(record, answers);
        recordType.GetProperty("Observations")!.SetValue(record, observations);
        var result = _type
            .GetMethod("Score", BindingFlags.Public | BindingFlags.Static)!
            .Invoke(null, [record])!;
        return (List<string>)result.GetType().GetProperty("Errors")!.GetValue(result)!;
    }

    /// <summary>Writes the same record as JavaScript.</summary>
    public static string AsJavaScript(
        int age,
        string? form,
        Dictionary<string, object?> answers,
        Dictionary<string, string?> observations
    )
    {
        static string Quote(string? text) => System.Text.Json.JsonSerializer.Serialize(text);
        static string Value(object? value) =>
            value is string or null
                ? Quote((string?)value)
                : ((IFormattable)value).ToString(null, CultureInfo.InvariantCulture);
        var given = string.Join(", ", answers.Select(a => $"[{Quote(a.Key)}]: {Value(a.Value)}"));
        var looked = string.Join(", ", observations.Select(o => $"{Quote(o.Key)}: {Quote(o.Value)}"));
        return FormattableString.Invariant(
            $"{{ ageMonths: {age}, form: {Quote(form)}, answers: {{ {given} }}, observations: {{ {looked} }} }}"
        );
    }
}
