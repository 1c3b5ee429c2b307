using System.Buffers;
using System.Globalization;
using System.Runtime.CompilerServices;
using System.Security.Cryptography;
using System.Text;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Hashes parts of a text as they come, with a separator between them: the whole of a large protocol would be
/// megabytes in one piece. First 64 bits of SHA-256 (FIPS 180-4), as 16 hexadecimal digits.
/// </summary>
internal sealed class Digest : IDisposable
{
    private const int Portion = 16 * 1024;
    private const char Separator = '\u001e';

    private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private readonly ArrayBufferWriter<byte> _waiting = new(2 * Portion);
    private bool _begun;

    public static string Of(Action<Digest> write)
    {
        using var digest = new Digest();
        write(digest);
        digest._hash.AppendData(digest._waiting.WrittenSpan);
        return Convert.ToHexStringLower(digest._hash.GetHashAndReset())[..16];
    }

    public void Add(string? part)
    {
        Separate();
        Encoding.UTF8.GetBytes(part, _waiting);
        Portions();
    }

    private void Portions()
    {
        if (_waiting.WrittenCount >= Portion)
        {
            _hash.AppendData(_waiting.WrittenSpan);
            _waiting.ResetWrittenCount();
        }
    }

    /// <summary>A part put together from several, without a string of it.</summary>
    public void Add([InterpolatedStringHandlerArgument("")] ref PartWriter part)
    {
        // Each piece was written as it came.
        _ = part;
        Portions();
    }

    /// <summary>Two numbers with a space between, as one part.</summary>
    public void Add(long low, long high)
    {
        Separate();
        Number(low);
        _waiting.Write(" "u8);
        Number(high);
    }

    public void Dispose() => _hash.Dispose();

    private void Separate()
    {
        if (_begun)
        {
            _waiting.GetSpan(1)[0] = (byte)Separator;
            _waiting.Advance(1);
        }

        _begun = true;
    }

    private void Number(long number)
    {
        number.TryFormat(_waiting.GetSpan(20), out var length, provider: CultureInfo.InvariantCulture);
        _waiting.Advance(length);
    }

    /// <summary>Writes an interpolated part into the digest piece by piece.</summary>
    [InterpolatedStringHandler]
    public readonly ref struct PartWriter
    {
        private readonly Digest _digest;

        public PartWriter(int literalLength, int formattedCount, Digest digest)
        {
            _ = literalLength + formattedCount;
            _digest = digest;
            digest.Separate();
        }

        public void AppendLiteral(string text) => Encoding.UTF8.GetBytes(text, _digest._waiting);

        public void AppendFormatted(string? text) => Encoding.UTF8.GetBytes(text, _digest._waiting);

        public void AppendFormatted(int number) => _digest.Number(number);

        public void AppendFormatted<T>(T value) =>
            Encoding.UTF8.GetBytes(value?.ToString(), _digest._waiting);
    }
}
