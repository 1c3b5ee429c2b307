using ProtocolKit.Model;

namespace ProtocolKit.Language.Tree;

/// <summary>A name or keyword as written.</summary>
internal sealed record Word(string Text, Place Place);

/// <summary>A quoted text, its escapes undone.</summary>
internal sealed record TextValue(string Text, Place Place);

/// <summary>An age as written; a number where an age belongs is told apart when it is checked.</summary>
internal sealed record AgeValue(string Written, bool IsAge, Place Place);

internal sealed record AgeSpan(AgeValue From, AgeValue To)
{
    public Place Place => From.Place.To(To.Place);
}

/// <summary>A number, or a family's parameter that stands for one.</summary>
internal sealed record NumberValue(Rational? Number, Word? Parameter, Place Place);

internal sealed record NumberSpan(NumberValue From, NumberValue To)
{
    public Place Place => From.Place.To(To.Place);
}

internal sealed record UnitValue(IReadOnlyList<Word> Above, IReadOnlyList<Word> Below)
{
    public Place Place => Above[0].Place.To((Below.Count > 0 ? Below : Above)[^1].Place);
}

/// <summary>What is handed to a family: exactly one is present.</summary>
internal sealed record Argument(Word? Name, TextValue? Text, NumberValue? Number)
{
    public Place Place => Name?.Place ?? Text?.Place ?? Number!.Place;
}
