/** A password: the one that is, or (with at least 12 characters) the one that is to be. */
export function Secret({ name, label, now = false }: { name: string; label: string; now?: boolean }) {
  return (
    <label className="field">
      <span className="field__label">{label}</span>
      <span className="field__box">
        <input
          className="field__input"
          name={name}
          type="password"
          autoComplete={now ? 'current-password' : 'new-password'}
          {...(now ? {} : { minLength: 12 })}
          required
        />
      </span>
    </label>
  );
}
