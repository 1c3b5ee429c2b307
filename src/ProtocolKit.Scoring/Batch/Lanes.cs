using System.Linq.Expressions;
using System.Numerics;
using System.Reflection;

namespace ProtocolKit.Scoring.Batch;

/// <summary>
/// What the compiled program does to several records at once, one in each lane. Both branches of a choice are worked out and
/// one is taken, so no lane may raise an error: in a lane that isn't taken a divisor may be 0 and a number may be anything.
/// A condition has all bits where it holds, and none where it doesn't.
/// </summary>
internal static class Lanes
{
    // The compiler knows these methods as instructions; methods of ours around them would be calls in loops as long as these.
    private static readonly MethodInfo LoadOne = Own(nameof(Vector.LoadUnsafe), 1);
    private static readonly MethodInfo StoreOne = Own(nameof(Vector.StoreUnsafe), 2);
    private static readonly MethodInfo Create = Own(nameof(Vector.Create), 1);
    private static readonly MethodInfo Min = Own(nameof(Vector.Min), 2);
    private static readonly MethodInfo Max = Own(nameof(Vector.Max), 2);
    private static readonly MethodInfo Select = Own(nameof(Vector.ConditionalSelect), 3);
    private static readonly MethodInfo Same = OfLongs(nameof(Vector.Equals));
    private static readonly MethodInfo NotAbove = OfLongs(nameof(Vector.LessThanOrEqual));

    public static int Count => Vector<long>.Count;

    public static Expression Load(Expression column, Expression at) =>
        Expression.Call(LoadOne, Expression.ArrayIndex(column, at));

    public static Expression Store(Expression value, Expression column, Expression at) =>
        Expression.Call(StoreOne, value, Expression.ArrayIndex(column, at));

    public static Expression All(long value) => Expression.Call(Create, Expression.Constant(value));

    public static Expression Least(Expression left, Expression right) => Expression.Call(Min, left, right);

    public static Expression Most(Expression left, Expression right) => Expression.Call(Max, left, right);

    public static Expression Choose(Expression holds, Expression then, Expression otherwise) =>
        Expression.Call(Select, holds, then, otherwise);

    public static Expression AreEqual(Expression left, Expression right) =>
        Expression.Call(Same, left, right);

    public static Expression AreAtMost(Expression left, Expression right) =>
        Expression.Call(NotAbove, left, right);

    /// <param name="isSmall">Both are surely below <see cref="LaneMath.FewestTooLarge"/>.</param>
    public static Expression Divide(Expression dividend, Expression divisor, bool isSmall) =>
        Math(isSmall ? nameof(LaneMath.DivideSmall) : nameof(LaneMath.Divide), dividend, divisor);

    public static Expression Lookup(Expression table, long low, Expression subject) =>
        Math(nameof(LaneMath.Lookup), table, Expression.Constant(low), subject);

    private static MethodCallExpression Math(string name, params Expression[] with) =>
        Expression.Call(typeof(LaneMath).GetMethod(name)!, with);

    private static MethodInfo Own(string name, int parameters) =>
        typeof(Vector)
            .GetMethods()
            .First(m =>
                m.Name == name
                && m.IsGenericMethodDefinition
                && m.GetParameters().Length == parameters
                && m.GetParameters()
                    .All(p => !p.ParameterType.Name.Contains("Span", StringComparison.Ordinal))
            )
            .MakeGenericMethod(typeof(long));

    private static MethodInfo OfLongs(string name) =>
        typeof(Vector).GetMethod(name, [typeof(Vector<long>), typeof(Vector<long>)])!;
}
