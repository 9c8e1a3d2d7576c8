interface Props {
  /** What would lie beside the job. */
  readonly what: string
  readonly onSave: () => void
}

/** Instead of what lies beside a job that was never saved. */
export function NoJob({ what, onSave }: Props) {
  return (
    <div className="boxed">
      <p>{what} lie beside the job, and this one was not saved yet.</p>
      <div className="actions">
        <button type="button" className="solid small" onClick={onSave}>
          Save the job
        </button>
      </div>
    </div>
  )
}
