using ProtocolKit.Model;
using ProtocolKit.Testing;
using ProtocolKit.Verification.Targets;

namespace ProtocolKit.Verification;

/// <summary>A record, and what Scoring says of it.</summary>
internal sealed record Trial(TrialRecord Record, ExpectedAnswer Expected)
{
    public static Trial Of(Protocol protocol, long[] fields) =>
        new(new TrialRecord(fields, PlainRecord.From(protocol, fields)), ExpectedAnswer.Of(protocol, fields));
}
