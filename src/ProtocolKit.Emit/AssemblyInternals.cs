using System.Runtime.CompilerServices;

[assembly: InternalsVisibleTo("ProtocolKit.Benchmarks")]
[assembly: InternalsVisibleTo("ProtocolKit.Emit.Tests")]
