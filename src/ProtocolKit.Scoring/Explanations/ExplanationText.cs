using System.Text;

namespace ProtocolKit.Scoring;

/// <summary>An explanation as plain text, a heading above each group of sentences.</summary>
public static class ExplanationText
{
    public static string Write(Explanation explanation)
    {
        ArgumentNullException.ThrowIfNull(explanation);
        var text = new StringBuilder();
        text.Append(explanation.Title).Append('\n').Append(explanation.About).Append('\n');
        Group(text, "Result", explanation.Result);
        Group(text, "Scores and measures", explanation.Outcomes.Select(e => e.Text));
        Group(text, "Actions", explanation.Actions.Select(e => e.Text));
        Group(text, "Not tried", explanation.Untried.Select(e => e.Text));
        Group(text, "Not given", explanation.NotGiven);
        Group(text, "Answers", explanation.Answers.Select(e => e.Text));
        Group(text, "Signs", explanation.Observations);
        Group(text, "Events and corrections", explanation.Events);
        Group(text, "Remarks", explanation.Remarks);
        Group(text, "Please keep in mind", explanation.Cautions);
        return text.ToString();
    }

    private static void Group(StringBuilder text, string heading, IEnumerable<string> sentences)
    {
        var isFirst = true;
        foreach (var sentence in sentences)
        {
            text.Append(isFirst ? $"\n{heading}\n" : "").Append("  ").Append(sentence).Append('\n');
            isFirst = false;
        }
    }
}
