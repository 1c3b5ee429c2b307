{{ include 'sql/head.sql' }}
with
{{~ for level in levels ~}}
{{~ if level.is_last ~}}
select
{{ include 'sql/columns.sql' level -}}
from {{ level.from }}
{{~ else ~}}
{{ level.name }} {{ level_as }} (
  select
{{ include 'sql/columns.sql' level }}  from {{ level.from }}{{ level_end }}
){{ if for.index < levels.size - 2 }},{{ end }}
{{~ end ~}}
{{~ end ~}}
