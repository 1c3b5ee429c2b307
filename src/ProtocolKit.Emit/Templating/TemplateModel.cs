using System.Collections;
using System.Collections.Concurrent;
using System.Reflection;
using System.Text;
using Scriban.Runtime;

namespace ProtocolKit.Emit.Templating;

/// <summary>
/// Turns a view (a record of this assembly made for a template) into Scriban objects: properties in
/// snake_case, lists as arrays. Only strings, whole numbers, truth values, <see cref="Raw"/>, enums (their
/// name), functions of Scriban, lists and other views pass; a type of the model is refused, so a
/// template sees what its view shows and nothing else.
/// </summary>
public static class TemplateModel
{
    private static readonly ConcurrentDictionary<
        Type,
        IReadOnlyList<(string Name, PropertyInfo Property)>
    > Known = new();

    /// <exception cref="ArgumentException">The view holds something that is not allowed in one.</exception>
    public static ScriptObject From(object view)
    {
        ArgumentNullException.ThrowIfNull(view);
        var type = view.GetType();
        if (type.Assembly != typeof(TemplateModel).Assembly && !type.Name.StartsWith('<'))
        {
            throw new ArgumentException($"{type.Name} is not a view.", nameof(view));
        }

        var target = new ScriptObject();
        foreach (var (name, property) in Known.GetOrAdd(type, Properties))
        {
            target.SetValue(name, Convert(property.GetValue(view)), readOnly: true);
        }

        return target;
    }

    private static object? Convert(object? value) =>
        value switch
        {
            null or string or bool or int or long or Raw or IScriptCustomFunction or ScriptObject => value,
            Enum e => e.ToString(),
            IEnumerable list => ToArray(list),
            _ => From(value),
        };

    private static ScriptArray ToArray(IEnumerable list)
    {
        var array = new ScriptArray();
        foreach (var item in list)
        {
            array.Add(Convert(item));
        }

        return array;
    }

    private static IReadOnlyList<(string Name, PropertyInfo Property)> Properties(Type type) =>
        type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
            .Where(p => p.GetIndexParameters().Length == 0)
            .Select(p => (SnakeCase(p.Name), p))
            .ToList();

    /// <summary><c>FootText</c> becomes <c>foot_text</c>, as templates call it.</summary>
    internal static string SnakeCase(string name)
    {
        var text = new StringBuilder(name.Length + 4);
        foreach (var c in name)
        {
            if (char.IsUpper(c) && text.Length > 0)
            {
                text.Append('_');
            }

            text.Append(char.ToLowerInvariant(c));
        }

        return text.ToString();
    }
}
