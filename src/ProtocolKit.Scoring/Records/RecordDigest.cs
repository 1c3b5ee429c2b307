using System.Security.Cryptography;
using System.Text;

namespace ProtocolKit.Scoring;

/// <summary>
/// Identifies a record by what it says: keys and values. Comments, quotes, line ends, the order of keys, and whether it is
/// YAML or JSON play no part. First 64 bits of SHA-256 (FIPS 180-4), as 16 hexadecimal digits.
/// </summary>
internal static class RecordDigest
{
    public static string Of(Node root)
    {
        var text = new StringBuilder();
        Write(root, text);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())))[..16];
    }

    private static void Write(Node node, StringBuilder text)
    {
        switch (node)
        {
            case TextNode value:
                text.Append('=').Append(value.Text.Trim()).Append('\u001e');
                break;
            case ListNode list:
                foreach (var item in list.Items)
                {
                    text.Append('\u001d');
                    Write(item, text);
                }

                break;
            case MapNode map:
                text.Append('{');
                foreach (var entry in map.Entries.OrderBy(e => e.Key, StringComparer.Ordinal))
                {
                    text.Append(entry.Key).Append('\u001f');
                    Write(entry.Value, text);
                }

                text.Append('}');
                break;
        }
    }
}
