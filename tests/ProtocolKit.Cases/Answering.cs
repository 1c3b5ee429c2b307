using System.Text.Json.Nodes;
using ProtocolKit.Calibration;

namespace ProtocolKit.Cases;

/// <summary>From the text of a case to its results: route, compute, then answer every key that was asked for.</summary>
internal static class Answering
{
    public static JsonObject Answer(string text)
    {
        try
        {
            var file = CaseFile.Parse(text);
            var answer = new JsonObject { ["id"] = file.Id, ["method"] = file.Method };
            try
            {
                var result = Routing.FamilyOf(file).Compute(file);
                answer["expected_published"] = Published(file, result);
                answer["expected_recomputed"] = Recomputed(file, result.Figures);
                if (Options.Refused(file) is { } refused)
                {
                    answer["options_not_used"] = refused;
                }
            }
            catch (NotEstimableException e)
            {
                answer["error"] = e.Message;
            }
            catch (Exception e)
                when (e
                        is InvalidOperationException
                            or FormatException
                            or ArgumentException
                            or NullReferenceException
                            or IndexOutOfRangeException
                            or InvalidCastException
                            or ArithmeticException
                            or MathNet.Numerics.NonConvergenceException
                )
            {
                answer["error"] =
                    $"The data of this case don't have the layout that \"{file.Method}\" needs here: {e.Message}";
            }

            return answer;
        }
        catch (NotEstimableException e)
        {
            return Json.Error(e.Message);
        }
    }

    private static JsonObject Published(CaseFile file, CaseResult result)
    {
        var answer = new JsonObject();
        foreach (var label in file.Published)
        {
            answer[label] = Json.Try(() =>
                result.Named?.Invoke(label)?.DeepClone()
                ?? Labels.Find(result.Figures, label)?.DeepClone()
                ?? Unknown(label, file)
            );
        }

        return answer;
    }

    private static JsonNode Recomputed(CaseFile file, JsonNode figures)
    {
        if (figures is JsonObject known)
        {
            foreach (var key in file.RequestedKeys.Where(k => !known.ContainsKey(k)))
            {
                known[key] = Labels.Find(figures, key)?.DeepClone() ?? Unknown(key, file);
            }
        }

        return figures;
    }

    private static JsonObject Unknown(string key, CaseFile file) =>
        Json.Error($"Nothing called \"{key}\" is computed by the method \"{file.Method}\".");
}
