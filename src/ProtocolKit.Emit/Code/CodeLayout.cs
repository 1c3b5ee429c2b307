using System.Text;

namespace ProtocolKit.Emit.Code;

/// <summary>
/// A piece of code that knows where it may be broken. What fits is written on one line; what does not is
/// broken at its outermost joints first, one part a line, each line two spaces further in.
/// </summary>
internal abstract record CodeLayout(int Length)
{
    private const int Width = 110;
    private const int Indent = 2;

    public static CodeLayout Word(string text) => new WordLayout(text);

    public static CodeLayout Row(params CodeLayout[] parts) => new RowLayout(parts);

    /// <summary>Parts with a joint before each but the first; a broken chain begins its lines with the joints.</summary>
    public static CodeLayout Chain(IReadOnlyList<(string Joint, CodeLayout Part)> parts) =>
        parts.Count == 1 ? parts[0].Part : new ChainLayout(parts);

    /// <summary>Parts with a comma between; a broken list has a line for each but the first.</summary>
    public static CodeLayout List(IReadOnlyList<CodeLayout> parts) => new ListLayout(parts);

    /// <param name="column">How many characters stand before it on its first line.</param>
    /// <param name="indent">How far in that line begins.</param>
    public string Write(int column, int indent)
    {
        var text = new StringBuilder(Length + 16);
        Write(text, ref column, indent);
        return text.ToString();
    }

    /// <summary>All on one line, however long.</summary>
    public string Flat()
    {
        var text = new StringBuilder(Length);
        WriteFlat(text);
        return text.ToString();
    }

    protected abstract void Write(StringBuilder text, ref int column, int indent);

    protected abstract void WriteFlat(StringBuilder text);

    private bool TryWriteFlat(StringBuilder text, ref int column)
    {
        if (column + Length > Width)
        {
            return false;
        }

        WriteFlat(text);
        column += Length;
        return true;
    }

    private static void NewLine(StringBuilder text, ref int column, int indent)
    {
        text.Append('\n').Append(' ', indent);
        column = indent;
    }

    private sealed record WordLayout(string Text) : CodeLayout(Text.Length)
    {
        protected override void Write(StringBuilder text, ref int column, int indent)
        {
            WriteFlat(text);
            column += Length;
        }

        protected override void WriteFlat(StringBuilder text) => text.Append(Text);
    }

    private sealed record RowLayout(IReadOnlyList<CodeLayout> Parts) : CodeLayout(Parts.Sum(p => p.Length))
    {
        protected override void Write(StringBuilder text, ref int column, int indent)
        {
            foreach (var part in Parts)
            {
                part.Write(text, ref column, indent);
            }
        }

        protected override void WriteFlat(StringBuilder text)
        {
            foreach (var part in Parts)
            {
                part.WriteFlat(text);
            }
        }
    }

    private sealed record ChainLayout(IReadOnlyList<(string Joint, CodeLayout Part)> Parts)
        : CodeLayout(Parts.Select((p, i) => p.Part.Length + (i == 0 ? 0 : p.Joint.Length + 2)).Sum())
    {
        protected override void Write(StringBuilder text, ref int column, int indent)
        {
            if (TryWriteFlat(text, ref column))
            {
                return;
            }

            var inner = indent + Indent;
            for (var i = 0; i < Parts.Count; i++)
            {
                if (i > 0)
                {
                    NewLine(text, ref column, inner);
                    text.Append(Parts[i].Joint).Append(' ');
                    column += Parts[i].Joint.Length + 1;
                }

                Parts[i].Part.Write(text, ref column, inner);
            }
        }

        protected override void WriteFlat(StringBuilder text)
        {
            for (var i = 0; i < Parts.Count; i++)
            {
                text.Append(i == 0 ? "" : $" {Parts[i].Joint} ");
                Parts[i].Part.WriteFlat(text);
            }
        }
    }

    private sealed record ListLayout(IReadOnlyList<CodeLayout> Parts)
        : CodeLayout(Parts.Sum(p => p.Length) + (2 * (Parts.Count - 1)))
    {
        protected override void Write(StringBuilder text, ref int column, int indent)
        {
            if (TryWriteFlat(text, ref column))
            {
                return;
            }

            var inner = indent + Indent;
            for (var i = 0; i < Parts.Count; i++)
            {
                if (i > 0)
                {
                    text.Append(',');
                    NewLine(text, ref column, inner);
                }

                Parts[i].Write(text, ref column, inner);
            }
        }

        protected override void WriteFlat(StringBuilder text)
        {
            for (var i = 0; i < Parts.Count; i++)
            {
                text.Append(i == 0 ? "" : ", ");
                Parts[i].WriteFlat(text);
            }
        }
    }
}
