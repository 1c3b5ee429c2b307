using System.Collections;
using System.Numerics;
using System.Reflection;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Tests.Editing;

/// <summary>Compares everything that can be read of two objects, however deep: texts, numbers, places, lines of programs.</summary>
internal sealed class Difference
{
    private static readonly Dictionary<Type, PropertyInfo[]> Properties = [];
    private readonly HashSet<(object, object)> _met = new(new ByReference());

    /// <summary>The path to the first difference, or null where there is none.</summary>
    public static string? Of(object? a, object? b) => new Difference().Find(a, b, "");

    private string? Find(object? a, object? b, string path)
    {
        if (ReferenceEquals(a, b))
        {
            return null;
        }

        if (a is null || b is null || a.GetType().IsValueType || a is string)
        {
            return a is not null && a is not (string or BigInteger) && b is not null && !IsLeaf(a.GetType())
                    ? Members(a, b, path)
                : Equals(a, b) ? null
                : $"{path}: {a ?? "nothing"} and {b ?? "nothing"}";
        }

        if (!_met.Add((a, b)))
        {
            return null;
        }

        return a is IEnumerable list && b is IEnumerable other
            ? Items(list, other, path)
            : Members(a, b, path);
    }

    /// <summary>Numbers, names of an enumeration, and fractions, which are compared as such.</summary>
    private static bool IsLeaf(Type type) => type.IsPrimitive || type.IsEnum || type == typeof(Rational);

    private string? Items(IEnumerable list, IEnumerable other, string path)
    {
        object?[] left = [.. list.Cast<object?>()];
        object?[] right = [.. other.Cast<object?>()];
        if (left.Length != right.Length)
        {
            return $"{path}: {left.Length} and {right.Length} of them";
        }

        for (var i = 0; i < left.Length; i++)
        {
            if (Find(left[i], right[i], $"{path}[{i}]") is { } found)
            {
                return found;
            }
        }

        return null;
    }

    private string? Members(object a, object b, string path)
    {
        if (a.GetType() != b.GetType())
        {
            return $"{path}: {a.GetType().Name} and {b.GetType().Name}";
        }

        if (!Properties.TryGetValue(a.GetType(), out var properties))
        {
            Properties[a.GetType()] = properties = [
                .. a.GetType()
                    .GetProperties(BindingFlags.Public | BindingFlags.Instance)
                    .Where(p => p.GetIndexParameters().Length == 0),
            ];
        }

        foreach (var property in properties)
        {
            if (Find(property.GetValue(a), property.GetValue(b), $"{path}.{property.Name}") is { } found)
            {
                return found;
            }
        }

        return null;
    }

    private sealed class ByReference : IEqualityComparer<(object, object)>
    {
        public bool Equals((object, object) x, (object, object) y) =>
            ReferenceEquals(x.Item1, y.Item1) && ReferenceEquals(x.Item2, y.Item2);

        public int GetHashCode((object, object) pair) =>
            HashCode.Combine(
                System.Runtime.CompilerServices.RuntimeHelpers.GetHashCode(pair.Item1),
                System.Runtime.CompilerServices.RuntimeHelpers.GetHashCode(pair.Item2)
            );
    }
}
