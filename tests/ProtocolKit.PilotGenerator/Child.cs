using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.PilotGenerator;

/// <summary>An invented child: who it is in the pilot and what is true of it.</summary>
public sealed class Child
{
    private readonly Truth _truth;
    private readonly ulong _seed;

    public Child(Truth truth, ulong seed, int index)
    {
        (_truth, _seed, Index) = (truth, seed, index);
        Case = string.Create(CultureInfo.InvariantCulture, $"invented-{index + 1:000}");
        IsCase = index % truth.CaseEvery == truth.CaseEvery - 1;
        Standing = Roll("standing").Normal(truth.Ability.Spread) - (IsCase ? truth.Ability.CasesBelow : 0);
        Sex = Roll("sex").Chance(0.5) ? "girl" : "boy";
        Seen = truth.FirstDay.AddDays(index % 4 + (index / 4 * 7 / 3));
        Born = Seen.AddMonths(-AgeMonths(index)).AddDays(-Roll("birthday").Below(28));
        Impression = Standing + Roll("reference").Normal(truth.Reference.Error);
    }

    public int Index { get; }

    public string Case { get; }

    /// <summary>Truly needs help.</summary>
    public bool IsCase { get; }

    /// <summary>Ability beside children of the same age.</summary>
    public double Standing { get; }

    public string Sex { get; }

    public DateOnly Seen { get; }

    /// <summary>Never written anywhere: only ages are.</summary>
    public DateOnly Born { get; }

    /// <summary>What the reference judge makes of the child.</summary>
    public double Impression { get; }

    public bool IsReferenceCase => Impression < _truth.Reference.Cut;

    public bool IsBorderline => Math.Abs(Impression - _truth.Reference.Cut) < _truth.Reference.Borderline;

    public bool IsDoubleRated => IsOneOf(_truth.DoubleRated, 2);

    public bool IsReTested => IsOneOf(_truth.ReTested, 0);

    public DateOnly ReTested
    {
        get
        {
            var (from, to) = (_truth.ReTestWeeks[0] * 7, _truth.ReTestWeeks[1] * 7);
            return Seen.AddDays(from + Roll("re-test").Below(to - from + 1));
        }
    }

    public Age AgeAt(DateOnly day) => Age.Between(Born, day)!.Value;

    /// <summary>Ability at a sitting: age, standing, the day, and practice.</summary>
    public double AbilityAt(DateOnly day, int sitting)
    {
        var years = (AgeAt(day).Months - 96) / 12.0;
        return Standing
            + (_truth.Ability.PerYear * years)
            + Roll("day", sitting.ToString(CultureInfo.InvariantCulture)).Normal(_truth.Ability.Occasion)
            + ((sitting - 1) * _truth.Ability.Practice);
    }

    /// <summary>This child's own dice for something.</summary>
    public Dice Roll(params ReadOnlySpan<string> words) =>
        Dice.For(_seed ^ ((ulong)Index * 0x9E3779B97F4A7C15), words);

    /// <summary>Ages spread evenly from 4;0, cases and others alike; a re-test still lies within 11;11.</summary>
    private int AgeMonths(int index) => 48 + (int)(index * 37L % _truth.Children * 92 / _truth.Children);

    /// <summary>So many of all children, spread evenly, from an offset on.</summary>
    private bool IsOneOf(int count, int offset)
    {
        var at = (Index + offset) % _truth.Children;
        return ((long)(at + 1) * count / _truth.Children) > ((long)at * count / _truth.Children);
    }
}
