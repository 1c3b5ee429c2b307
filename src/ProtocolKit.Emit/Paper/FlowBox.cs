namespace ProtocolKit.Emit.Paper;

/// <summary>Something laid in a row that wraps; millimetres.</summary>
internal readonly record struct FlowBox(double Width, double Height)
{
    /// <summary>The height of boxes that follow each other in rows of this width.</summary>
    public static double HeightOf(IEnumerable<FlowBox> boxes, double width, double columnGap, double rowGap)
    {
        double total = 0,
            row = 0,
            used = 0;
        foreach (var box in boxes)
        {
            var wanted = used == 0 ? box.Width : used + columnGap + box.Width;
            if (used > 0 && wanted > width)
            {
                total += row + rowGap;
                row = box.Height;
                used = box.Width;
            }
            else
            {
                used = wanted;
                row = Math.Max(row, box.Height);
            }
        }

        return total + row;
    }
}
