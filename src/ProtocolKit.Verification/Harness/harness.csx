// Runs one record through emitted code (whose class is named Emitted here) and says all it came to.
static string NumberOrNone(decimal? number)
{
  return number == null ? "none" : number.Value.ToString(CultureInfo.InvariantCulture);
}

static List<KeyValuePair<string, string>> OutputsOf(Emitted.Result result)
{
  var outputs = new List<KeyValuePair<string, string>>();
  void Add(string key, string text) =>
    outputs.Add(new KeyValuePair<string, string>(key, text ?? "none"));
  foreach (var score in result.Scores)
  {
    Add("score " + score.Key + " state", score.Value.State);
    Add("score " + score.Key + " low", NumberOrNone(score.Value.Low));
    Add("score " + score.Key + " high", NumberOrNone(score.Value.High));
    Add("score " + score.Key + " unit", score.Value.Unit);
    Add("score " + score.Key + " step", NumberOrNone(score.Value.Step));
  }
  foreach (var band in result.Bands)
  {
    Add("band " + band.Key, band.Value);
  }
  foreach (var action in result.Actions)
  {
    Add("action " + action.Key, action.Value);
  }
  Add("headline", result.Headline);
  for (var i = 0; i < result.Reasons.Count; i++)
  {
    Add("reason " + (i + 1), result.Reasons[i]);
  }
  for (var i = 0; i < result.Errors.Count; i++)
  {
    Add("error " + (i + 1), result.Errors[i]);
  }
  return outputs;
}

return new Func<
  long[],
  int,
  string,
  Dictionary<string, object>,
  Dictionary<string, string>,
  Dictionary<string, string>,
  object[]
>(
  (fields, age, form, answers, observations, history) =>
  {
    var record = new Emitted.Record
    {
      AgeMonths = age,
      Form = form,
      Answers = answers,
      Observations = observations,
      History = history,
    };
    return new object[]
    {
      Emitted.ScoreFields(fields),
      Emitted.ReadRecord(record, new List<string>()),
      OutputsOf(Emitted.Score(record)),
    };
  }
);
