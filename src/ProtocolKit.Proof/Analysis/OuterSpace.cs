using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// Values of measures and scores and their bands as if those of each outcome had nothing to do with the others'. Whatever happens on
/// a sheet happens here too, so what can't happen here can't happen at all; much more may happen here. It is small where a sheet is large.
/// </summary>
internal sealed class OuterSpace : Space
{
    private readonly Space _answers;
    private readonly List<Func<PartRows>> _clusters;
    private readonly PartRows?[] _rows;
    private readonly Dictionary<int, int> _partOfField;

    /// <param name="answers">The sheets themselves, for answers that are read directly.</param>
    /// <param name="clusters">What the values of an outcome can be.</param>
    /// <param name="partOfField">By field that stands for a value: the number of its cluster.</param>
    public OuterSpace(Space answers, List<Func<PartRows>> clusters, Dictionary<int, int> partOfField)
    {
        (_answers, _clusters) = (answers, clusters);
        _partOfField = partOfField;
        _rows = new PartRows?[clusters.Count];
    }

    public override int PartCount => _answers.PartCount + _clusters.Count;
    public override IReadOnlyList<(int Task, Node Condition)> Conditions => [];

    public override PartRows RowsOf(int part) =>
        part < _answers.PartCount
            ? _answers.RowsOf(part)
            : _rows[part - _answers.PartCount] ??= _clusters[part - _answers.PartCount]();

    public override (int Task, int Trial) PlaceOf(int part) =>
        part < _answers.PartCount ? _answers.PlaceOf(part) : (-1, 0);

    public override int PartOf(int field) =>
        _partOfField.TryGetValue(field, out var cluster)
            ? _answers.PartCount + cluster
            : _answers.PartOf(field);
}
