// Why something could not be kept, as one of a few words that the catalogue has sentences for.

const KINDS = {
  QuotaExceededError: "full",
  NS_ERROR_FILE_NO_DEVICE_SPACE: "full",
  NotAllowedError: "refused",
  SecurityError: "refused",
  TimeoutError: "silent",
};

/** "full", "refused", "silent" or, for all else, "broken". */
export function why(error) {
  return KINDS[error?.name] ?? "broken";
}

/** What the work gives; rejects with a TimeoutError where it gives nothing within so many ms. */
export function within(ms, work) {
  let timer;
  const late = new Promise((_, reject) => {
    timer = setTimeout(() => reject(new DOMException("no answer", "TimeoutError")), ms);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(timer));
}
