using ProtocolKit.Model;

namespace ProtocolKit.Emit;

/// <summary>What a build may be asked for. Outputs ignore what doesn't concern them.</summary>
public sealed record OutputOptions
{
    public static OutputOptions Default { get; } = new();

    public PaperSize Paper { get; init; } = PaperSize.A4;

    /// <summary>Only tasks of the short form, and its cut-offs.</summary>
    public bool ShortForm { get; init; }

    /// <summary>Print only what concerns a child of this age; null prints for all ages.</summary>
    public Age? Age { get; init; }

    /// <summary>Mirrors the record sheet for a left-handed writer.</summary>
    public bool LeftHanded { get; init; }

    /// <summary>Cards are turned over their short edge when printed on both sides.</summary>
    public bool ShortEdge { get; init; }

    /// <summary>Printed into the record code boxes; null leaves them empty.</summary>
    public string? RecordCode { get; init; }

    /// <summary>What was proved of the protocol, for manual and technical page; null: nothing was asked.</summary>
    public ProofReport? Proof { get; init; }

    /// <summary>Letterhead and ink of pages that leave the room; sheets and cards stay black.</summary>
    public HouseStyle Style { get; init; } = HouseStyle.Plain;
}

public enum PaperSize
{
    A4,
    Letter,
}
