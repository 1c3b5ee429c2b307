using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Workspace.Tests.Files;

/// <summary>A folder that is taken away while somebody still writes, as when a process ends in the middle of its work.</summary>
public sealed class OutputFolderTests : IDisposable
{
    private readonly string _place = Directory.CreateTempSubdirectory("protocolkit-test-").FullName;

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public void What_was_written_stands_in_its_place_only_once_all_is_finished()
    {
        using var folder = new OutputFolder(_place);
        folder.Write("sheet.html", "a");
        folder.Write("cards/one.html", "b");

        Assert.Empty(Directory.EnumerateFiles(_place));
        Assert.Equal(["sheet.html", "cards/one.html"], folder.Finish());
        Assert.Equal("b", File.ReadAllText(Path.Combine(_place, "cards", "one.html")));
    }

    [Fact]
    public void Once_taken_away_nothing_brings_it_back()
    {
        var folder = new OutputFolder(_place);
        folder.Write("sheet.html", "a");
        folder.Dispose();

        Assert.Throws<OperationCanceledException>(() => folder.Write("sheet.html", "b"));
        Assert.Throws<OperationCanceledException>(() => folder.Write("sheet.png", new byte[3]));
        Assert.Throws<OperationCanceledException>(() => folder.Reserve("sheet.pdf"));
        Assert.Empty(folder.Finish());
        Assert.Empty(Directory.EnumerateFileSystemEntries(_place));
    }

    [Fact]
    public async Task Writing_while_it_is_taken_away_leaves_nothing()
    {
        for (var round = 0; round < 50; round++)
        {
            var folder = new OutputFolder(_place);
            var (started, number) = (new TaskCompletionSource(), 0);
            var writing = Task.Run(() =>
            {
                while (true)
                {
                    folder.Write($"part-{number++}/page.html", "a");
                    started.TrySetResult();
                }
            });
            await started.Task;
            folder.Dispose();

            await Assert.ThrowsAsync<OperationCanceledException>(() => writing);
            Assert.Empty(Directory.EnumerateFileSystemEntries(_place));
        }
    }

    [Fact]
    public async Task A_program_that_writes_a_file_itself_has_a_moment_to_stop()
    {
        var folder = new OutputFolder(_place);
        var path = folder.Reserve("pages/page.pdf");
        var started = new TaskCompletionSource();
        var program = Task.Run(() =>
        {
            for (var number = 0; number < 200 && Directory.Exists(Path.GetDirectoryName(path)); number++)
            {
                Create($"{path}.{number}");
                started.TrySetResult();
            }
        });
        await started.Task;
        folder.Dispose();
        await program;

        Assert.Empty(Directory.EnumerateFileSystemEntries(_place));
    }

    private static void Create(string path)
    {
        try
        {
            File.WriteAllText(path, "a");
        }
        catch (DirectoryNotFoundException)
        {
            // It went between the look and the writing.
        }
    }
}
