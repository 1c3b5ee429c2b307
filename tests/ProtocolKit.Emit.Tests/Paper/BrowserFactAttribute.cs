using ProtocolKit.Workspace.Printing;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>A test that prints. Without an installed browser it is reported as not run, never as passed.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class BrowserFactAttribute : FactAttribute
{
    public BrowserFactAttribute()
    {
        if (BrowserFinder.Find() is null)
        {
            Skip = "NOT RUN: no browser of the Chromium family is installed, so nothing could be printed.";
        }
    }
}
