import type { Finding } from '../../../core/base/finding.ts'
import type { Asset, AssetKindName } from '../../../core/job/asset.ts'

interface Props {
  readonly asset: Asset | null
  readonly findings: readonly Finding[]
  readonly kinds: readonly { readonly kind: AssetKindName; readonly title: string }[]
  readonly onChoose: (kind: AssetKindName) => void
}

/** The files behind an effect, what is wrong with them, and the ways to choose others. */
export function AssetFiles({ asset, findings, kinds, onChoose }: Props) {
  return (
    <div className="asset">
      <p
        className={asset === null ? 'quiet' : 'asset-name'}
        title={asset?.files.map(one => one.path).join('\n')}
      >
        {asset === null ? 'No files chosen yet.' : nameOf(asset)}
      </p>
      <div className="asset-buttons">
        {kinds.map(({ kind, title }) => (
          <button key={kind} type="button" className="solid small" onClick={() => onChoose(kind)}>
            {title}
          </button>
        ))}
      </div>
      {findings.map(finding => (
        <p key={finding.code + finding.where} className="note">
          <strong>{finding.where}</strong> {finding.message}. {finding.fix}
        </p>
      ))}
    </div>
  )
}

function nameOf({ kind, files }: Asset): string {
  const names = files.map(file => file.path.split('/').at(-1) ?? file.path)
  const [first, last] = [names[0] ?? '', names.at(-1) ?? '']
  return kind === 'views' ? `${first} … ${last}, ${files.length} pictures` : first
}
