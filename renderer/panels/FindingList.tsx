import type { Finding } from '../../core/base/finding.ts'

const words = { error: 'Must be put right', warning: 'Look at this', note: 'Good to know' } as const
const order = ['error', 'warning', 'note'] as const

/** What was found in the art and on the way to the map: what, where, and what to do. */
export function FindingList({ findings }: { readonly findings: readonly Finding[] }) {
  if (findings.length === 0) return <p>Nothing was found that needs a word.</p>
  return order.map(severity => {
    const these = findings.filter(finding => finding.severity === severity)
    return these.length === 0 ? null : (
      <section key={severity} className="findings">
        <h3>
          {words[severity]} <span className="quiet">{these.length}</span>
        </h3>
        <ul>
          {these.map(finding => (
            <li key={`${finding.code} ${finding.where} ${finding.message}`}>
              <strong>{finding.where}</strong>
              <p>{finding.message}</p>
              <p className="quiet">{finding.fix}</p>
            </li>
          ))}
        </ul>
      </section>
    )
  })
}
