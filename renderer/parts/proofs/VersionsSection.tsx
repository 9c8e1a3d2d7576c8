import { useEffect } from 'react'
import { NoJob } from '../../panels/proofs/NoJob.tsx'
import { VersionItem } from '../../panels/proofs/VersionItem.tsx'
import { jobFileId, loadVersions } from '../../state/proof-files.ts'
import { proofsOf } from '../../state/proofs.ts'
import { save } from '../../state/save.ts'
import { useStore } from '../../state/store.ts'
import { CompareVersions } from './CompareVersions.tsx'
import type { SectionProps } from './props.ts'

/** Versions of the job that went out, joined to the state. */
export function VersionsSection(props: SectionProps) {
  const { desk, state } = props
  const { versions, failed } = useStore(proofsOf(desk.store), all => all)
  const id = jobFileId(state)
  // biome-ignore lint/correctness/useExhaustiveDependencies: read again for another job
  useEffect(() => void loadVersions(desk), [id])
  if (id === null) return <NoJob what="Versions" onSave={() => void save(desk)} />
  return (
    <>
      {failed.versions === null ? null : (
        <p role="alert" className="boxed">
          {failed.versions}
        </p>
      )}
      {versions === null ? null : versions.length === 0 ? (
        <p>
          No version yet. Each proof that is sent out is one: the job as it stood, with the hashes of all
          files it was made from.
        </p>
      ) : (
        <>
          <CompareVersions key={id} {...props} versions={versions} jobFileId={id} />
          <ul className="versions">
            {versions.map((version, i) => (
              <VersionItem
                key={version.id}
                version={version}
                newest={i === 0}
                first={i === versions.length - 1}
              />
            ))}
          </ul>
        </>
      )}
    </>
  )
}
