using ProtocolKit.Model;

namespace ProtocolKit.Language.Tree;

/// <summary><c>order of difficulty</c>: the section's tasks stand from the easiest to the hardest.</summary>
internal sealed record DifficultyLine(TextValue? Basis) : Statement;

/// <summary><c>start at tip-ridge from 6;0</c>.</summary>
internal sealed record StartLine(Word Task, AgeValue From) : Statement;

/// <summary><c>go back until 2 in a row full</c>.</summary>
internal sealed record GoBackLine(NumberValue Count) : Statement;

/// <summary><c>stop after 2 tasks in a row rated 0</c>.</summary>
internal sealed record StopAfterLine(NumberValue Count, NumberValue Points) : Statement;

/// <summary><c>skip when tip-nose = 0, counts lowest</c>.</summary>
internal sealed record SkipLine(ConditionNode Condition, Credit Credit) : Statement;

/// <summary><c>yes closes mouth contact, bite-firm unless surgeon-agrees</c>.</summary>
internal sealed record GateLine(bool OnYes, IReadOnlyList<GateTarget> Targets, Word? Unless) : Statement;

/// <summary>A contact, or the name of a task or section.</summary>
internal sealed record GateTarget(Word Name, bool IsContact);

/// <summary><c>event gag "The child gags.", stops mouth contact</c>.</summary>
internal sealed record EventLine(Word Name, TextValue Text, WelfareStop Stops) : Statement;
