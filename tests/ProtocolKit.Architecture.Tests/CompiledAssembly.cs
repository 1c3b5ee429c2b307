using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;

namespace ProtocolKit.Architecture.Tests;

/// <summary>What a compiled assembly of ours says it uses. The file is read; nothing of it is loaded or run.</summary>
internal sealed record CompiledAssembly(
    string Name,
    IReadOnlyList<string> References,
    IReadOnlySet<string> UsedMembers
)
{
    public static CompiledAssembly Of(ProjectFile project)
    {
        var file = (project.Property("AssemblyName") ?? project.Name) + ".dll";
        using var reader = new PEReader(File.OpenRead(Path.Combine(AppContext.BaseDirectory, file)));
        var metadata = reader.GetMetadataReader();
        var references = metadata
            .AssemblyReferences.Select(h => metadata.GetString(metadata.GetAssemblyReference(h).Name))
            .ToList();
        var members = metadata.MemberReferences.Select(h => NameOf(metadata, metadata.GetMemberReference(h)));
        return new CompiledAssembly(
            project.Name,
            references,
            members.OfType<string>().ToHashSet(StringComparer.Ordinal)
        );
    }

    /// <summary>A used member as <c>Namespace.Type.Member</c>, or null where its owner is no plain type.</summary>
    private static string? NameOf(MetadataReader metadata, MemberReference member)
    {
        if (member.Parent.Kind != HandleKind.TypeReference)
        {
            return null;
        }

        var type = metadata.GetTypeReference((TypeReferenceHandle)member.Parent);
        return $"{metadata.GetString(type.Namespace)}.{metadata.GetString(type.Name)}.{metadata.GetString(member.Name)}";
    }
}
