using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>
/// What every protocol's outputs say for the child's sake, whatever its author wrote. A caution of the
/// protocol with the same name stands in for the wording here, so that nothing is said twice. Common
/// practice, no source; local rules and licensed practice come first.
/// </summary>
public sealed record Duty(string Name, string Text)
{
    /// <summary>The protocol's own wording where it has one of this name.</summary>
    public string In(Protocol protocol) =>
        protocol.Cautions.FirstOrDefault(c => c.Name == Name)?.Text ?? Text;
}

/// <summary>The duties by name; which output prints which is each output's own list.</summary>
public static class Duties
{
    public static Duty Agreement { get; } =
        new("agreement", "Ask the child before each touch, and wait for a clear yes.");

    public static Duty StopSigns { get; } =
        new(
            "stop-signs",
            "Stop at once when the child turns away, cries, is in pain, gags, or changes breath or colour."
        );

    public static Duty Consent { get; } =
        new("consent-first", "Begin only with the caregiver’s consent, asked for one thing at a time.");

    public static Duty Hygiene { get; } =
        new(
            "clean-hands",
            "Clean hands before and after, fresh gloves, single-use items. Ask about latex and other allergies."
        );

    public static Duty Postpone { get; } =
        new("not-today", "Put the sitting off when the child may be infectious or has a sore mouth.");

    public static Duty Gates { get; } =
        new(
            "ask-first",
            "Loose teeth, bleeding, seizures, a recent operation, a risk when swallowing: nothing touches the mouth "
                + "until a clinician who knows the child has agreed."
        );

    public static Duty NothingLoose { get; } =
        new("no-food", "Nothing loose in the mouth, no food and no drink.");

    public static Duty Rest { get; } =
        new("rest-breath", "Let the child rest when dizzy or short of breath.");

    public static Duty WhoGives { get; } =
        new(
            "who-gives",
            "For a licensed speech-language pathologist, or a student under direct supervision. Local rules come "
                + "first. It makes no medical or dental diagnosis."
        );

    public static Duty NoDiagnosis { get; } =
        new(
            "screen-limits",
            "A screen makes no diagnosis. It misses some children who need help, and points out some who do not."
        );

    public static Duty NonSpeech { get; } =
        new(
            "nonspeech-limits",
            "Movements without speech say little about speech: neither name a speech disorder nor choose a therapy "
                + "from them alone."
        );

    public static Duty Languages { get; } =
        new(
            "languages-heard",
            "More than one language: use the child’s strongest, an interpreter where one is needed, and only sounds "
                + "the child already has."
        );

    public static Duty ReferToday { get; } =
        new(
            "refer-today",
            "Refer today: a new droop of the face, a lost skill, new trouble with swallowing or breathing, bleeding "
                + "without a cause. Urgent: a tongue that wastes or flickers."
        );

    /// <summary>Every duty, in the order in which they are read.</summary>
    public static IReadOnlyList<Duty> All { get; } =
    [
        Agreement,
        StopSigns,
        Consent,
        Gates,
        Hygiene,
        Postpone,
        NothingLoose,
        Rest,
        Languages,
        ReferToday,
        WhoGives,
        NoDiagnosis,
        NonSpeech,
    ];

    /// <summary>What is asked before anything touches the mouth, one by one.</summary>
    public static IReadOnlyList<string> GateQuestions { get; } =
    ["loose teeth", "bleeding", "seizures", "recent operation", "risk when swallowing"];

    /// <summary>Agreed to one by one, where the protocol names no consents of its own.</summary>
    public static IReadOnlyList<string> Consents { get; } =
    ["Examination", "Mouth contact", "Recording", "Pilot data"];

    /// <summary>General cautions of the protocol that are not the wording of a duty.</summary>
    public static IReadOnlyList<Caution> OtherGeneral(Protocol protocol) =>
        protocol.Cautions.Where(c => c.IsGeneral && All.All(d => d.Name != c.Name)).ToList();
}
