namespace ProtocolKit.Emit.Paper;

internal static class SheetHeights
{
    public static void Check(SheetView view, PaperGeometry paper) { }
}
