using System.Runtime.CompilerServices;

[assembly: InternalsVisibleTo("ProtocolKit.Emit.Tests")]
