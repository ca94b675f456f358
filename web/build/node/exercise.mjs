// The exercise: everything that the page asks of Python, so that the modules it loads are the ones the page needs.

/** Runs the requests through the core and returns the answers as JSON; a crash's report must come out whole, too. */
export function exercise(pyodide, requests) {
  const answers = pyodide.pyimport("exercise").answers(requests);
  reportOfCrash(pyodide);
  return answers;
}

function reportOfCrash(pyodide) {
  let report = "";
  try {
    pyodide.pyimport("matside.bridge").answer("not JSON");
  } catch (error) {
    report = error.message;
  }
  if (!report.includes("JSONDecodeError")) throw new Error(`a crash in Python was not reported: ${report}`);
}
