using System.ComponentModel;
using System.Diagnostics;
using System.Formats.Tar;
using System.Globalization;
using System.IO.Compression;
using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using ProtocolKit.Emit.Code.Fhir;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Testing;
using ProtocolKit.TestPrograms;
using ProtocolKit.Workspace.Printing;
using Xunit.Abstractions;

namespace ProtocolKit.Verification.Tests.Fhir;

/// <summary>
/// The questionnaire in a form renderer no one here wrote, npm's lforms, in an installed browser. Answers are given through its form
/// model, not by clicks; what it then calculates must be the reference's results.
/// </summary>
public sealed class FormRendererTests(ITestOutputHelper output) : IDisposable
{
    private const string Package = "lforms@40.1.3";
    private const int Forms = 100;

    /// <summary>
    /// Of the example: a form of so many expressions takes a quarter of a minute and more. For a hundred: PROTOCOLKIT_FORMS=100.
    /// </summary>
    private const int FormsOfTheExample = 4;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("protocolkit-lforms-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void A_hundred_filled_forms_come_to_the_reference_s_results() =>
        AssertAgrees(SampleScreen.Protocol(), Forms, isDrawn: true);

    /// <summary>
    /// Filled in the renderer's form model and not drawn: drawn, so large a form did not come to rest in ten minutes, as each run of its
    /// expressions was followed by another (its own messages say so).
    /// </summary>
    [Fact]
    public void Forms_of_the_example_come_to_the_reference_s_results()
    {
        var wish = Environment.GetEnvironmentVariable("PROTOCOLKIT_FORMS");
        var forms = wish is null ? FormsOfTheExample : int.Parse(wish, CultureInfo.InvariantCulture);
        AssertAgrees(ExampleTests.Screen(), forms, isDrawn: false);
    }

    private void AssertAgrees(Protocol protocol, int forms, bool isDrawn)
    {
        var browser = BrowserFinder.Find();
        if (browser is null || !Fetched())
        {
            Assert.False(
                Environment.GetEnvironmentVariable("CI") == "true",
                "NOT RUN: a browser of the Chromium family and npm's lforms are needed."
            );
            return;
        }

        Write(protocol, forms, isDrawn);
        var watch = Stopwatch.StartNew();
        var said = Said(browser);
        output.WriteLine(
            $"{said["forms"]} forms of {protocol.Name} filled in {watch.Elapsed.TotalSeconds:F0} s, {said["compared"]} values compared"
        );

        Assert.True(said["error"] is null, (string?)said["error"]);
        Assert.Equal(forms, (int)said["forms"]!);
        Assert.True((int)said["compared"]! > forms * 5);
        Assert.Empty(said["differences"]!.AsArray().Select(d => (string?)d));
    }

    private void Write(Protocol protocol, int forms, bool isDrawn)
    {
        var records = Records
            .AllAtEdges(protocol)
            .Take(forms / 2)
            .Concat(Records.Random(protocol, forms / 2, 11))
            .Select(f => new JsonObject
            {
                ["answers"] = Values(protocol, f, k => !k.Contains('/', StringComparison.Ordinal)),
                ["expected"] = Values(protocol, f, k => k.StartsWith("results/", StringComparison.Ordinal)),
            });
        var all = new JsonArray([.. records]).ToJsonString();
        File.WriteAllText(
            Path.Combine(_folder.FullName, "data.js"),
            $"const questionnaire = {FhirOutput.Text(protocol)};\nconst records = {all};\nconst isDrawn = {(isDrawn ? "true" : "false")};\n"
        );
        File.Copy(
            Path.Combine(AppContext.BaseDirectory, "Fhir", "fill.html"),
            Path.Combine(_folder.FullName, "fill.html")
        );
    }

    private static JsonObject Values(Protocol protocol, long[] fields, Func<string, bool> isWanted)
    {
        var record = new SittingRecord
        {
            Case = "C-1",
            Age = new Age((int)fields[protocol.Program.AgeField]),
            Seen = [],
            IsShortForm = fields[protocol.Program.FormField] == 1,
            Fields = fields,
        };
        var bundle = JsonNode.Parse(FhirRecord.Write(protocol, [Scorer.Score(protocol, record)]))!;
        var values = new JsonObject();
        var response = bundle["entry"]![0]!["resource"]!.AsObject();
        foreach (var item in FhirResponse.Items(response).SelectMany(FhirResponse.Items))
        {
            var id = (string)item["linkId"]!;
            if (isWanted(id))
            {
                values[id] = item["answer"]![0]!.AsObject().Single().Value!.DeepClone();
            }
        }

        return values;
    }

    private JsonNode Said(string browser)
    {
        var page = new Uri(Path.Combine(_folder.FullName, "fill.html")).AbsoluteUri;
        var profile = Path.Combine(_folder.FullName, "profile");
        var dom = Output(
            browser,
            [
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--no-first-run",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--allow-file-access-from-files",
                $"--user-data-dir={profile}",
                "--virtual-time-budget=600000",
                "--dump-dom",
                page,
            ]
        );
        if (!dom.Contains("<pre id=\"out\">", StringComparison.Ordinal))
        {
            return new JsonObject { ["error"] = "The browser did not come to its end." };
        }

        var start = dom.IndexOf("<pre id=\"out\">", StringComparison.Ordinal) + "<pre id=\"out\">".Length;
        var text = WebUtility.HtmlDecode(dom[start..dom.IndexOf("</pre>", start, StringComparison.Ordinal)]);
        return text.StartsWith('{') ? JsonNode.Parse(text)! : new JsonObject { ["error"] = text };
    }

    /// <summary>Packed and not installed: the page needs its own files alone.</summary>
    private bool Fetched()
    {
        try
        {
            Output(OperatingSystem.IsWindows() ? "npm.cmd" : "npm", ["pack", Package]);
            var packed = _folder.GetFiles("lforms-*.tgz").Single();
            using var stream = new GZipStream(packed.OpenRead(), CompressionMode.Decompress);
            TarFile.ExtractToDirectory(stream, _folder.FullName, overwriteFiles: true);
            Directory.Move(
                Path.Combine(_folder.FullName, "package", "dist", "lforms"),
                Path.Combine(_folder.FullName, "lforms")
            );
            return true;
        }
        catch (Exception e) when (e is Win32Exception or InvalidOperationException)
        {
            return false;
        }
    }

    private string Output(string program, string[] arguments)
    {
        using var process = Process.Start(
            new ProcessStartInfo(program, arguments)
            {
                WorkingDirectory = _folder.FullName,
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            }
        )!;
        process.ErrorDataReceived += (_, _) => { };
        process.BeginErrorReadLine();
        var text = process.StandardOutput.ReadToEndAsync();
        if (!process.WaitForExit(TimeSpan.FromMinutes(20)))
        {
            process.Kill(entireProcessTree: true);
        }

        return text.Result;
    }
}
