namespace ProtocolKit.Benchmarks.Batch.Example;

/// <summary>Ratings that stand alone, and the signs for a medical colleague.</summary>
internal sealed class ExampleSigns(ExampleAnswers answers, ExampleResults results, ExampleRows rows)
{
    private const long Seen = 2;
    private const long Looked = 1;

    private static readonly Ends Clear = Ends.Of(1);
    private static readonly Ends NotClear = Ends.Of(0);
    private static readonly Ends Open = new(0, 0, 1);

    private readonly BestOfTwo _cough = answers.Rating("strong-cough.rate");
    private readonly BestOfTwo _pitch = answers.Rating("pitch-slide.rate");
    private readonly BestOfTwo _loud = answers.Rating("soft-loud.rate");
    private readonly BestOfTwo _palate = answers.Rating("palate-lift.rate");
    private readonly BestOfTwo _order = answers.Rating("three-place-order.rate");
    private readonly Single _breaths = answers.One("quiet-breaths.breaths", 90);
    private readonly Single _sentence = answers.One("oral-sentence.choice", 1);
    private readonly Single _face = answers.One("quiet-face.choice", 3);
    private readonly Single _roof = answers.One("palate-light.choice", 3);
    private readonly Single _uvula = answers.One("uvula-light.choice", 2);
    private readonly long[] _flicker = answers.Observed("tongue-at-rest.tongue-flicker");
    private readonly long[] _wasting = answers.Observed("tongue-at-rest.tongue-wasting");
    private readonly long[] _swallowCough = answers.Observed("dry-swallow.swallow-cough");
    private readonly long[] _wetVoice = answers.Observed("dry-swallow.wet-voice");
    private readonly long[] _noise = answers.Observed("breath-signs.noisy-breath");
    private readonly long[] _drawing = answers.Observed("breath-signs.neck-drawing-in");

    private readonly Measure _coughStrength = new(results, rows, "cough-strength", (0, 1), (0, 1), (0, 1));
    private readonly Measure _pitchRange = new(results, rows, "pitch-range", (0, 1), (0, 1), (0, 1));
    private readonly Measure _loudnessRange = new(results, rows, "loudness-range", (0, 1), (0, 1), (0, 1));
    private readonly Measure _palateMovement = new(
        results,
        rows,
        "palate-movement",
        (1, 2),
        (1, 2),
        (1, 2),
        (1, 2),
        (1, 2),
        (1, 2)
    );
    private readonly Measure _soundOrder = new(results, rows, "sound-order", (0, 1), (0, 1), (1, 2));
    private readonly Measure _pace = new(
        results,
        rows,
        "breathing-pace",
        (0, 1),
        (0, 1),
        (0, 1),
        (0, 1),
        (0, 1),
        (0, 1)
    );
    private readonly Measure _pinched = new(results, rows, "pinched-nose", (0, 1), (0, 1), (0, 1));
    private readonly Measure _medical = new(
        results,
        rows,
        "medical-signs",
        (1, 1),
        (1, 1),
        (1, 1),
        (1, 1),
        (1, 1),
        (1, 1)
    );
    private readonly Value _clearFace = results.Of("clear-face");
    private readonly Value _clearPalate = results.Of("clear-palate");
    private readonly Value _clearUvula = results.Of("clear-uvula");
    private readonly Value _clearTongue = results.Of("clear-tongue");
    private readonly Value _clearSwallow = results.Of("clear-swallow");
    private readonly Value _clearBreathing = results.Of("clear-breathing");

    public void Run(int from, int to)
    {
        for (var row = from; row < to; row++)
        {
            _coughStrength.Put(row, _cough.At(row));
            _pitchRange.Put(row, _pitch.At(row));
            _loudnessRange.Put(row, _loud.At(row));
            _palateMovement.Put(row, _palate.At(row));
            _soundOrder.Put(row, _order.At(row));
            var breaths = _breaths.At(row);
            _pace.Put(row, Sign(breaths, isSeen: breaths.Low is < 12 or > 40));
            var sentence = _sentence.At(row);
            _pinched.Put(row, Sign(sentence, isSeen: sentence.Low == 1));
        }

        for (var row = from; row < to; row++)
        {
            var isShort = answers.Forms[row] == 1;
            var (face, roof, uvula) = (_face.At(row), _roof.At(row), _uvula.At(row));
            var clearFace = Sign(face, isSeen: face.Low == 1);
            var clearPalate = Sign(roof, isSeen: roof.Low is 2 or 3);
            var clearUvula = Sign(uvula, isSeen: uvula.Low == 2);
            var clearTongue = Signs(_flicker[row], _wasting[row], isShort);
            var clearSwallow = Signs(_swallowCough[row], _wetVoice[row], isShort);
            var clearBreathing = Signs(_noise[row], _drawing[row], isOff: false);
            Put(_clearFace, row, clearFace);
            Put(_clearPalate, row, clearPalate);
            Put(_clearUvula, row, clearUvula);
            Put(_clearTongue, row, clearTongue);
            Put(_clearSwallow, row, clearSwallow);
            Put(_clearBreathing, row, clearBreathing);
            var low = clearFace.Low & clearPalate.Low & clearUvula.Low & clearBreathing.Low;
            var high = clearFace.High & clearPalate.High & clearUvula.High & clearBreathing.High;
            if (!isShort)
            {
                low &= clearTongue.Low & clearSwallow.Low;
                high &= clearTongue.High & clearSwallow.High;
            }

            _medical.Put(row, new Ends(0, low, high));
        }
    }

    private static void Put(Value value, int row, Ends ends) =>
        value.Put(row, ends.State, ends.Low, ends.High);

    private static Ends Sign(Ends answer, bool isSeen) =>
        answer.State switch
        {
            0 => isSeen ? NotClear : Clear,
            1 => answer,
            _ => Open,
        };

    private static Ends Signs(long first, long second, bool isOff) =>
        isOff ? new Ends(1, 0, 0)
        : first == Seen || second == Seen ? NotClear
        : first == Looked && second == Looked ? Clear
        : Open;
}
