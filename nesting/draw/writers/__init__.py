"""Writers that replay a scene, one for each family of files."""
