using ProtocolKit.Emit;
using ProtocolKit.Emit.Sitting;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.Workspace;

namespace ProtocolKit.Sitting.Tests.Support;

/// <summary>A sitting page on disk, as a clinician would have it.</summary>
internal sealed class PageFile : IDisposable
{
    private static readonly Lazy<Protocol> Example = new(() => Open("quillmere-screen.protocol"));
    private static readonly Lazy<Protocol> Translated = new(() =>
        ProtocolFile
            .Open(Checkout.PathOf("library", "quillmere", "quillmere-screen.protocol"))
            .In("de")
            .Compilation.Protocol!
    );
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("protocolkit-sitting-");

    public PageFile(Protocol protocol, TemplateSource? templates = null, OutputOptions? options = null)
    {
        Protocol = protocol;
        Text = new SittingPage()
            .Render(protocol, options ?? OutputOptions.Default, templates ?? TemplateSource.BuiltIn)
            .Single()
            .Text;
        Path = System.IO.Path.Combine(_folder.FullName, "sitting-page.html");
        File.WriteAllText(Path, Text);
    }

    public static Protocol Quillmere => Example.Value;

    /// <summary>The example's German form.</summary>
    public static Protocol German => Translated.Value;

    public Protocol Protocol { get; }

    public string Text { get; }

    public string Path { get; }

    public string Address => new Uri(Path).AbsoluteUri;

    /// <summary>Compiles a text; the library's modules may be used.</summary>
    public static Protocol Of(string text)
    {
        var file = ProtocolFile.OfInput(text);
        return file.Compilation.Protocol
            ?? throw new InvalidOperationException(
                string.Join(
                    '\n',
                    file.Compilation.Diagnostics.Select(d =>
                        $"line {d.Place.Line}: {d.Message.Text} {d.Message.Fix}"
                    )
                )
            );
    }

    public void Dispose() => _folder.Delete(recursive: true);

    private static Protocol Open(string name) =>
        ProtocolFile.Open(Checkout.PathOf("library", "quillmere", name)).Compilation.Protocol!;
}
