{{ include 'sql/head.sql' }}
{{~ for level in levels reversed ~}}
{{ if level.is_last }}select{{ else }}(select{{ end }} -- {{ level.name }}
{{ include 'sql/columns.sql' level }}from{{ if level.is_first }} {{ level.from }}{{ end }}
{{~ end ~}}
{{~ for level in levels ~}}
{{~ if !level.is_last ~}}
) as {{ level.name }}
{{~ end ~}}
{{~ end ~}}
