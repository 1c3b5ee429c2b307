using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>How an answer stands as it is written, before it is known whether it was due.</summary>
/// <param name="Need">Empty where it is due whatever other answers say.</param>
/// <param name="Off">The condition that it isn't part of the record's form; empty where it always is.</param>
/// <param name="OffNeeds">The columns <paramref name="Off"/> reads.</param>
internal sealed record SqlAnswer(
    AnswerSlot Slot,
    string Text,
    string Given,
    string State,
    string Value,
    string Need,
    string Off,
    IReadOnlyList<string> OffNeeds
);
