using System.Text;

namespace ProtocolKit.Benchmarks.Generated;

/// <summary>
/// One content written twice, line by line: in the protocol language and in YAML as somebody would write it by hand,
/// each clause a key of its own. Both forms of a statement stand in one call, so that a reader can compare them.
/// </summary>
internal sealed class TwinText
{
    private readonly StringBuilder _protocol = new();
    private readonly StringBuilder _yaml = new();
    private int _depth;
    private int _yamlDepth;

    public string Protocol => _protocol.ToString();
    public string Yaml => _yaml.ToString();

    /// <summary>One statement; an empty form leaves it out of that text.</summary>
    public void Line(string protocol, string yaml)
    {
        Write(_protocol, _depth, protocol);
        Write(_yaml, _yamlDepth, yaml);
    }

    /// <summary>Statements inside the one written last.</summary>
    /// <param name="yamlDepth">How much deeper YAML nests: 2 where the lines belong to an entry of a list.</param>
    public void Inside(Action lines, int yamlDepth = 1)
    {
        _depth++;
        _yamlDepth += yamlDepth;
        lines();
        _depth--;
        _yamlDepth -= yamlDepth;
    }

    private static void Write(StringBuilder to, int depth, string line)
    {
        if (line.Length > 0)
        {
            to.Append(' ', 2 * depth).Append(line).Append('\n');
        }
    }
}
