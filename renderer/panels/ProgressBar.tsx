interface Props {
  /** What is under way. */
  readonly label: string
  /** 0 to 1; null while that is not known. */
  readonly done: number | null
}

/** How far long work has come. */
export function ProgressBar({ label, done }: Props) {
  return (
    <div
      className="bar"
      role="progressbar"
      aria-label={label}
      aria-valuemin={0}
      aria-valuemax={100}
      {...(done === null ? {} : { 'aria-valuenow': Math.round(100 * done) })}
    >
      <div style={{ width: `${100 * (done ?? 0)}%` }} />
    </div>
  )
}
