"""Hot loops on plain arrays, compiled by numba; nothing here knows of cloth or pieces."""
