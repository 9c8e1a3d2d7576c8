import type { Finding } from '../../core/base/finding.ts'
import type { BuiltFrom, OpenArt } from './state.ts'

/** Everything that was found, each once: in the file, in its layers, and while the map was built. */
export function allFindings(art: OpenArt | null, built: BuiltFrom | null): readonly Finding[] {
  const found = new Map<string, Finding>()
  const all = [
    ...(art?.findings ?? []),
    ...(art?.art.findings ?? []),
    ...(art?.art.layers.flatMap(layer => layer.findings) ?? []),
    ...(built?.findings ?? []),
  ]
  for (const finding of all) found.set(`${finding.code} ${finding.where} ${finding.message}`, finding)
  return [...found.values()]
}
