{{~ for name in $1.carried ~}}
    {{ name }}{{ if !for.last || $1.columns.size > 0 }},{{ end }}
{{~ end ~}}
{{~ for column in $1.columns ~}}
    {{ column.code }} as {{ column.name }}{{ if !for.last }},{{ end }}{{ column.comment }}
{{~ end ~}}
