using System.Collections;
using System.Reflection;
using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Tests.Support;

/// <summary>
/// All that a model holds, as text, through every public property; but for where in the text it came from. Written by looking
/// at the types, so that what is added to the model later is compared as well.
/// </summary>
internal static class Dump
{
    public static string Of(object? value)
    {
        var text = new StringBuilder();
        Write(text, value, []);
        return text.ToString();
    }

    private static void Write(StringBuilder text, object? value, HashSet<object> open)
    {
        switch (value)
        {
            case null:
                text.Append("none");
                return;
            case Origin:
                return;
            case string or bool or Enum or IFormattable:
                text.Append(value);
                return;
        }

        if (!value.GetType().IsValueType && !open.Add(value))
        {
            text.Append("again");
            return;
        }

        if (value is IEnumerable items)
        {
            text.Append('[');
            foreach (var item in items)
            {
                Write(text, item, open);
                text.Append('\n');
            }

            text.Append(']');
        }
        else
        {
            Properties(text, value, open);
        }

        open.Remove(value);
    }

    private static void Properties(StringBuilder text, object value, HashSet<object> open)
    {
        text.Append(value.GetType().Name).Append('(');
        foreach (var property in value.GetType().GetProperties(BindingFlags.Public | BindingFlags.Instance))
        {
            if (property.GetIndexParameters().Length == 0 && property.PropertyType != typeof(Origin))
            {
                text.Append(property.Name).Append(": ");
                Write(text, property.GetValue(value), open);
                text.Append("; ");
            }
        }

        text.Append(')');
    }
}
