using System.Runtime.CompilerServices;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Parsing;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// What a family's parameters stand for in one use of it. Texts are filled in, names and numbers replaced.
/// </summary>
internal sealed class Environment(IReadOnlyDictionary<string, Argument> arguments, DiagnosticBag diagnostics)
{
    public static Environment Empty(DiagnosticBag diagnostics) =>
        new(new Dictionary<string, Argument>(), diagnostics);

    /// <summary>The name a parameter stands for, or the name itself.</summary>
    public Word Name(Word word, SourceText source)
    {
        if (!arguments.TryGetValue(word.Text, out var argument))
        {
            return word;
        }

        if (argument.Name is { } name)
        {
            return word with { Text = name.Text };
        }

        diagnostics.Report(source, word.Place, NameMessages.ArgumentKind(word.Text, "a name"));
        return word;
    }

    /// <summary>The number written, or the one a parameter stands for; null after reporting.</summary>
    public Rational? Number(NumberValue value, SourceText source)
    {
        if (value.Number is { } number)
        {
            return number;
        }

        if (value.Parameter is { } name && arguments.TryGetValue(name.Text, out var argument))
        {
            if (argument.Number?.Number is { } handed)
            {
                return handed;
            }

            diagnostics.Report(source, name.Place, NameMessages.ArgumentKind(name.Text, "a number"));
            return null;
        }

        var word = value.Parameter!.Text;
        diagnostics.Report(
            source,
            value.Place,
            LineFailure.FiguresFor(word) is { } figures
                ? LineMessages.Figures(word, figures)
                : NameMessages.ArgumentMissing(word)
        );
        return null;
    }

    /// <summary>
    /// A text with its placeholders filled in. <paramref name="more"/> holds words of the place of use, such as the side;
    /// null leaves unknown placeholders alone, to be filled in later.
    /// </summary>
    public string Text(TextValue text, SourceText source, IReadOnlyDictionary<string, string> more)
    {
        if (text.Text.IndexOf('{', StringComparison.Ordinal) < 0)
        {
            return text.Text;
        }

        var filled = new DefaultInterpolatedStringHandler(text.Text.Length, 4);
        var rest = text.Text.AsSpan();
        while (true)
        {
            var open = rest.IndexOf('{');
            var length = open < 0 ? -1 : rest[open..].IndexOf('}');
            if (length < 0)
            {
                filled.AppendFormatted(rest);
                return filled.ToStringAndClear();
            }

            var name = rest.Slice(open + 1, length - 1).ToString();
            filled.AppendFormatted(rest[..open]);
            filled.AppendLiteral(Fill(name, text, source, more));
            rest = rest[(open + length + 1)..];
        }
    }

    private string Fill(
        string name,
        TextValue text,
        SourceText source,
        IReadOnlyDictionary<string, string> more
    )
    {
        if (more.TryGetValue(name, out var word))
        {
            return word;
        }

        if (arguments.TryGetValue(name, out var argument))
        {
            return argument.Text?.Text
                ?? (argument.Name is { } n ? Names.ToWords(n.Text) : argument.Number!.Number.ToString()!);
        }

        // Braces that are not a name, as in a drawn shape or another notation, stand for themselves.
        if (
            name.Length is 0 or > 40
            || !name.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c is '-' or ' ')
        )
        {
            return "{" + name + "}";
        }

        diagnostics.Report(
            source,
            PlaceholderPlaces.Of(source, text, name),
            NameMessages.Placeholder(name, arguments.Keys.Concat(more.Keys))
        );
        return "";
    }
}
