def answer(request): return {}
