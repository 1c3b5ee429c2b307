using System.Runtime.CompilerServices;

[assembly: InternalsVisibleTo("ProtocolKit.Verification.Tests")]
